import type { RejectedGroup } from '@/lib/intake/group-rejected'
import type { IntakeSummary } from '@/lib/store/intake-summary'
import type { Formats } from '../../../ui/formats'
import { Link } from '../../../ui/link'
import { TwinLinks } from '../../../ui/twin-links'
import styles from '../intake.module.css'
import { mendWords, REMEDIES, waitingWords } from '../words'
import { mendAll, openAsWorkbook, readRowsAgain } from './actions'

type Props = { id: string; summary: IntakeSummary; formats: Formats; mayMend: boolean }

/** Refused rows by what mends them, first what other rows wait for. */
export function RejectedGroups({ id, summary, formats, mayMend }: Props) {
  const { groups, files } = summary
  if (groups.length === 0) return null
  return (
    <section className={styles.section} aria-labelledby="refused">
      <h2 id="refused">Refused, and what mends it</h2>
      <p className={styles.lead}>
        Everything else goes in without these rows. Mend them here, or take them along as a file, mend them
        there, and bring the mended file in.
      </p>
      <ol className={styles.groups}>
        {groups.slice(0, MOST_GROUPS).map((group) => (
          <li key={group.key}>
            <Group id={id} group={group} formats={formats} mayMend={mayMend} />
          </li>
        ))}
      </ol>
      {groups.length > MOST_GROUPS && <p>And {formats.count(groups.length - MOST_GROUPS)} causes more.</p>}
      <p>
        Every refused row with its reason:{' '}
        <TwinLinks csv={`/intake/${id}/rejected.csv`} of="the refused rows" />
      </p>
      <ul className={styles.downloads}>
        {files
          .filter(({ rejected }) => rejected > 0)
          .map(({ name }) => (
            <li key={name}>
              <a href={`/intake/${id}/refused?file=${encodeURIComponent(name)}`} download>
                Refused rows of {name}
              </a>
            </li>
          ))}
      </ul>
    </section>
  )
}

const MOST_GROUPS = 50

function Group({ id, group, formats, mayMend }: Omit<Props, 'summary'> & { group: RejectedGroup }) {
  const { cause, files, column, reason, rows, waiting } = group
  const rowsWords = (count: number) => `${formats.count(count)} ${count === 1 ? 'row' : 'rows'}`
  const places = files.map(([name, count]) => (files.length > 1 ? `${name} (${formats.count(count)})` : name))
  return (
    <>
      <p>
        <strong>
          {rowsWords(rows)} of {places.join(', ')}
        </strong>
        {column !== '' && (
          <>
            , column <code>{column}</code>
          </>
        )}
        : {reason.replace(/\?$/, '')}
        {rows > 1 && ', and the like'}.
      </p>
      {waiting > 0 && <p>{waitingWords(group, formats.count)}</p>}
      <p className={styles.soft}>{REMEDIES[cause]}</p>
      {mayMend && <GroupActs id={id} group={group} />}
    </>
  )
}

/** What can be done about a group at once. */
function GroupActs({ id, group }: { id: string; group: RejectedGroup }) {
  const { key, cause, files, rows, waiting, mend } = group
  return (
    <div className={styles.acts}>
      {mend && (
        <form action={mendAll}>
          <input type="hidden" name="id" value={id} />
          <input type="hidden" name="key" value={key} />
          <button type="submit" className={styles.act}>
            {mendWords(mend)}
          </button>
        </form>
      )}
      {cause !== 'file' && (
        <Link href={`/intake/${id}/mend?group=${encodeURIComponent(key)}`}>
          {rows === 1 ? 'Mend the row' : 'Mend the rows'}
        </Link>
      )}
      {cause === 'file' && waiting > 0 && (
        <form action={openAsWorkbook}>
          <input type="hidden" name="id" value={id} />
          <input type="hidden" name="name" value={files[0]?.[0] ?? ''} />
          <button type="submit" className={styles.act}>
            Say what its columns are
          </button>
        </form>
      )}
      {(cause === 'unit' || waiting > 0) && (
        <form action={readRowsAgain}>
          <input type="hidden" name="id" value={id} />
          <input type="hidden" name="key" value={key} />
          <button type="submit" className={styles.quiet}>
            The vehicles are in by now: read {cause === 'unit' ? 'these rows' : 'the rows that wait'} again
          </button>
        </form>
      )}
    </div>
  )
}
