import type { AuditLine } from '@/lib/store/read/audit-lines'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import table from '../../ui/list-table.module.css'
import styles from './audit.module.css'
import { actorWords, type Difference, didWords, differencesOf, fieldWords, valueWords } from './audit-words'

type Props = { lines: AuditLine[]; names: ReadonlyMap<string, string>; formats: Formats }

/** Lines of the trail, each a sentence; what it tells of a row is opened in place. */
export function AuditTable({ lines, names, formats }: Props) {
  return (
    <table className={table.table}>
      <caption className="for-ears">What was changed, the newest first</caption>
      <thead>
        <tr>
          <th scope="col">When</th>
          <th scope="col">Who did what</th>
          <th scope="col">Vehicle</th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <tr key={line.place}>
            <td className={table.short} data-heading="When">
              {formats.moment(line.at)}
            </td>
            <td data-heading="Who did what">
              <Told line={line} {...{ names, formats }} />
            </td>
            <td data-heading="Vehicle">
              {line.unit !== null && (
                <Link href={`/vehicles/${encodeURIComponent(line.unit)}`}>{line.unit}</Link>
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

/** Told otherwise, or for programs: which files it came from, the hashes that an erasure leaves. */
const NOT_READ = ['intake_id', 'lines']

function Told({ line, names, formats }: Omit<Props, 'lines'> & { line: AuditLine }) {
  const sentence = (
    <>
      <strong>{actorWords(line.actor, names)}</strong> {didWords(line, formats)}
      {line.erased && <small>What it said of somebody was erased.</small>}
    </>
  )
  const intake = line.after?.intake_id
  const differences = differencesOf(line).filter(({ field }) => !NOT_READ.includes(field))
  if (differences.length === 0)
    return (
      <p className={styles.said}>
        {sentence}
        {typeof intake === 'string' && <IntakeLink id={intake} />}
      </p>
    )
  return (
    <details className={styles.line}>
      <summary>{sentence}</summary>
      <BeforeAndAfter {...{ differences, formats }} />
      {typeof intake === 'string' && <IntakeLink id={intake} />}
    </details>
  )
}

const IntakeLink = ({ id }: { id: string }) => (
  <>
    {' '}
    <Link href={`/intake/${id}`}>from these files</Link>
  </>
)

function BeforeAndAfter({ differences, formats }: { differences: Difference[]; formats: Formats }) {
  return (
    <dl className={styles.fields}>
      {differences.map(({ field, before, after }) => (
        <div key={field}>
          <dt>{fieldWords(field)}</dt>
          {before !== undefined && (
            <dd>
              <span className={styles.side}>before</span> {valueWords(before, formats)}
            </dd>
          )}
          {after !== undefined && (
            <dd>
              <span className={styles.side}>after</span> {valueWords(after, formats)}
            </dd>
          )}
        </div>
      ))}
    </dl>
  )
}
