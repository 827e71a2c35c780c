import { FILE_KINDS } from '@/lib/intake/kind-of-file'
import { KIND_UNKNOWN } from '@/lib/intake/read-staged'
import type { FileSummary, IntakeSummary } from '@/lib/store/intake-summary'
import type { Intake } from '@/lib/store/read/intake'
import type { Formats } from '../../../ui/formats'
import styles from '../intake.module.css'
import { Scrolls } from '../scrolls'
import { KINDS } from '../words'
import { openAsWorkbook, sayKind } from './actions'
import { MonthBars } from './month-bars'

type Props = { intake: Intake; summary: IntakeSummary; formats: Formats; mayAnswer: boolean }

/** Each file: what it holds, how many of its rows do what, and when they are from. */
export function FileTable({ intake, summary, formats, mayAnswer }: Props) {
  return (
    <Scrolls label="The files">
      <table className={styles.table}>
        <caption className="for-ears">The files, in the order in which they go in</caption>
        <thead>
          <tr>
            <th scope="col">File</th>
            <th scope="col">New</th>
            <th scope="col">In another’s place</th>
            <th scope="col">Here already</th>
            <th scope="col">Refused</th>
            <th scope="col">Vehicles</th>
            <th scope="col">From when</th>
          </tr>
        </thead>
        <tbody>
          {summary.files.map((file) => (
            <tr key={file.name}>
              <th scope="row">
                {file.name}
                <small>{file.kind === null ? 'of no known kind' : KINDS[file.kind]}</small>
              </th>
              {file.refused === null ? (
                <Counts file={file} formats={formats} />
              ) : (
                <td colSpan={6}>
                  Nothing of it goes in: {file.refused}.
                  {file.refused === KIND_UNKNOWN && mayAnswer && intake.state === 'staged' && (
                    <>
                      <AskKind id={intake.id} name={file.name} />
                      <OpenAsWorkbook id={intake.id} name={file.name} />
                    </>
                  )}
                </td>
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </Scrolls>
  )
}

function Counts({ file, formats }: { file: FileSummary; formats: Formats }) {
  return (
    <>
      {([file.accepted, file.superseded, file.unchanged, file.rejected, file.vehicles] as const).map(
        (count, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: the columns of a row stay where they are
          <td key={i} className={styles.number}>
            {count === 0 ? '' : formats.count(count)}
          </td>
        ),
      )}
      <td>
        <MonthBars months={file.months} formats={formats} />
      </td>
    </>
  )
}

/** Which kind is it? Asked where neither name nor columns say. */
function AskKind({ id, name }: { id: string; name: string }) {
  return (
    <form action={sayKind} className={styles.ask}>
      <input type="hidden" name="id" value={id} />
      <input type="hidden" name="name" value={name} />
      <label>
        It holds{' '}
        <select name="kind">
          {FILE_KINDS.filter((kind) => kind !== 'settings').map((kind) => (
            <option key={kind} value={kind}>
              {KINDS[kind]}
            </option>
          ))}
        </select>
      </label>
      <button type="submit" className={styles.quiet}>
        Read it as that
      </button>
    </form>
  )
}

/** Its columns are not ours: somebody says what each of them is. */
function OpenAsWorkbook({ id, name }: { id: string; name: string }) {
  return (
    <form action={openAsWorkbook} className={styles.ask}>
      <input type="hidden" name="id" value={id} />
      <input type="hidden" name="name" value={name} />
      <button type="submit" className={styles.act}>
        Say what its columns are
      </button>
    </form>
  )
}
