import type { Family } from '@/lib/records/library'
import type { Formats } from '../../../ui/formats'
import { Link } from '../../../ui/link'
import { NOT_COVERED } from '../../../ui/words'
import styles from '../families.module.css'
import { changeFamily } from '../new/actions'
import { ProvenanceLine } from '../provenance-line'

type Props = { family: Family; version: number; vehicles: number; mayChange: boolean; formats: Formats }

/** Which engine it is, and what its description covers. */
export function FamilyHead({ family, version, vehicles, mayChange, formats }: Props) {
  const { key, name, cylinders, variants, weakPoints, signs } = family
  const versions = variants.map((variant) => variant.name)
  return (
    <header>
      <p className={styles.back}>
        <Link href="/families">Engine families</Link>
      </p>
      <h1 className={styles.title}>{name}</h1>
      <p className={styles.lead}>
        {formats.count(cylinders)} cylinder{cylinders === 1 ? '' : 's'}
        {versions.length > 0 && `; versions: ${versions.join(', ')}`}. {formats.count(weakPoints.length)} weak
        points and {formats.count(signs.length)} signs are described; {NOT_COVERED}.{' '}
        {vehicles > 0 && (
          <Link href={`/?q=${encodeURIComponent(name)}`}>
            {formats.count(vehicles)} vehicle{vehicles === 1 ? ' has' : 's have'} it
          </Link>
        )}
        {vehicles === 0 && 'No vehicle has it'}. From version {formats.count(version)} of the library.
      </p>
      <ProvenanceLine stated={family} formats={formats} />
      <div className={styles.acts}>
        {mayChange && (
          <form action={changeFamily.bind(null, key)}>
            <button type="submit" className={styles.act}>
              Change what is stated
            </button>
          </form>
        )}
        <a href={`/families/${encodeURIComponent(key)}/share`} download>
          Share this engine, as a file with its parts’ prices and without yours for hours and visits
        </a>
      </div>
      <nav className={styles.contents} aria-label="On this page">
        <ul>
          {weakPoints.map(({ key, component }) => (
            <li key={key}>
              <a href={`#${encodeURIComponent(key)}`}>{component}</a>
            </li>
          ))}
          <li>
            <a href="#signs">Signs</a>
          </li>
        </ul>
      </nav>
    </header>
  )
}
