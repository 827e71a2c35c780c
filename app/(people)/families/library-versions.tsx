import type { LibraryVersion } from '@/lib/store/read/library-versions'
import { dayIn } from '@/lib/units/dates'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import { CompareForm } from './compare-form'
import styles from './families.module.css'

type Props = { versions: LibraryVersion[]; timeZone: string; mayChange: boolean; formats: Formats }

/** Every version of the library, the latest first; each can be taken along as a file. */
export function LibraryVersions({ versions, timeZone, mayChange, formats }: Props) {
  const current = versions.find(({ inForce }) => inForce)?.version
  return (
    <section className={styles.versions} aria-labelledby="versions">
      <h2 id="versions">Versions of the library</h2>
      <p>
        A library is one file. It can be opened, mended and sent; earlier versions stay.{' '}
        <a href="/library.schema.json">Its format</a>
      </p>
      <ol reversed>
        {versions.map(({ version, inForce, name, enteredAt, enteredBy, note }) => (
          <li key={version} value={version}>
            {formats.day(dayIn(timeZone, enteredAt))}
            {enteredBy !== null && `, ${enteredBy}`}
            {note !== null && `: ${note}`}
            {inForce && <strong> (in force)</strong>}{' '}
            <a href={`/library/${version}`} download>
              {name}, version {version}, as a file
            </a>
            {mayChange && !inForce && current !== undefined && (
              <>
                {', '}
                <Link href={`/families/compare?from=${current}&to=${version}`}>
                  go back to it<span className="for-ears">: version {version}</span>
                </Link>
              </>
            )}
          </li>
        ))}
      </ol>
      {versions[1] && versions[0] && (
        <CompareForm {...{ versions, formats }} from={versions[1].version} to={versions[0].version} />
      )}
    </section>
  )
}
