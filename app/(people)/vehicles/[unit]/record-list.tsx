import type { Family } from '@/lib/records/library'
import { dayOfRecord } from '@/lib/records/vehicle-records'
import type { VehicleRecord } from '@/lib/store/read/vehicle-records'
import type { Formats } from '../../../ui/formats'
import { Link } from '../../../ui/link'
import { WHAT_WE_SAID } from '../../../ui/page-words'
import { TwinLinks } from '../../../ui/twin-links'
import { twinBelow } from '../../twins/twin-address'
import { changeRecordState } from './actions'
import { addressOfPlace } from './place'
import { recordWords } from './record-words'
import { addressOfSaid } from './said/address'
import styles from './vehicle.module.css'

type Props = {
  records: VehicleRecord[]
  family: Family | null
  names: ReadonlyMap<string, string>
  page: string
  mayEnter: boolean
  /** Every record is shown, and not only the latest. */
  all: boolean
  formats: Formats
}

/** So many are in sight; the others are a link away. */
const IN_SIGHT = 20

/** Records in the order of the list: the latest day first, then what was entered last. */
export const latestFirst = (records: readonly VehicleRecord[]): VehicleRecord[] =>
  records.toSorted((a, b) => dayOfRecord(b) - dayOfRecord(a) || b.enteredAt.getTime() - a.enteredAt.getTime())

/** Every version of every record, the latest day first; what does not count any more is struck and stays. */
export function RecordList(props: Props) {
  const sorted = latestFirst(props.records)
  const shown = props.all ? sorted : sorted.slice(0, IN_SIGHT)
  const earlier = sorted.length - shown.length
  return (
    <form action={changeRecordState} id="records">
      <Rows {...props} records={shown} />
      <p>
        <TwinLinks csv={twinBelow(props.page, 'records')} of="all its records" />
      </p>
      {earlier > 0 && (
        <Link href={addressOfPlace(props.page, { records: 'all' }, 'records')} scroll={false}>
          Show {props.formats.count(earlier)} earlier {earlier === 1 ? 'one' : 'ones'}
        </Link>
      )}
    </form>
  )
}

function Rows({ records, ...props }: Props) {
  return (
    <table className={styles.records}>
      <caption className="for-ears">Records, the latest first</caption>
      <thead>
        <tr>
          <th scope="col">Day</th>
          <th scope="col">Odometer</th>
          <th scope="col">What</th>
          <th scope="col">Entered</th>
          {props.mayEnter && <th scope="col">Change</th>}
        </tr>
      </thead>
      <tbody>
        {records.map((record) => (
          <Row key={`${record.kind} ${record.id}`} record={record} {...props} />
        ))}
      </tbody>
    </table>
  )
}

function Row({
  record,
  family,
  names,
  page,
  mayEnter,
  formats,
}: Omit<Props, 'records'> & { record: VehicleRecord }) {
  const { state, enteredAt, enteredBy, endedAt, withdrawnBy, row } = record
  const by = (id: string | null) => (id === null ? '' : ` by ${names.get(id) ?? 'somebody'}`)
  const ended =
    endedAt === null ? '' : `${formats.moment(endedAt)}${state === 'withdrawn' ? by(withdrawnBy) : ''}`
  const Words = state === 'live' ? 'span' : 'del'
  return (
    <tr>
      <th scope="row">{formats.day(dayOfRecord(record))}</th>
      <td className={styles.number}>{row.odometerKm === null ? '' : formats.distance(row.odometerKm)}</td>
      <td>
        <Words>{recordWords(record, family, formats)}</Words>
        {state === 'withdrawn' && <small> withdrawn {ended}</small>}
        {state === 'superseded' && <small> corrected {ended}</small>}
        <SaidLink record={record} family={family} />
      </td>
      <td>
        <small>
          {formats.moment(enteredAt)}
          {by(enteredBy)}
          {record.intakeId !== null && ', from a file'}
        </small>
      </td>
      {mayEnter && (
        <td>
          <Acts record={record} page={page} />
        </td>
      )}
    </tr>
  )
}

/** Where what was said of a part stands that was found failed. */
function SaidLink({ record, family }: Pick<Props, 'family'> & { record: VehicleRecord }) {
  if (record.kind !== 'repairs' || record.state !== 'live' || record.row.found !== 'failed') return null
  if (!family?.weakPoints.some(({ key }) => key === record.row.weakPoint)) return null
  return (
    <>
      {' '}
      <Link href={addressOfSaid(record.row.unit, record.id)}>{WHAT_WE_SAID}</Link>
    </>
  )
}

/** What can be done about a version: correct or withdraw what counts, bring back what was withdrawn. */
function Acts({ record: { kind, id, state, supersedesId }, page }: { record: VehicleRecord; page: string }) {
  const press = (act: 'withdraw' | 'restore' | 'undo-correction', words: string) => (
    <button type="submit" name="pressed" value={`${act} ${kind} ${id}`}>
      {words}
    </button>
  )
  if (state === 'superseded') return null
  if (state === 'withdrawn') return press('restore', 'Bring back')
  return (
    <div className={styles.recordActs}>
      <Link href={addressOfPlace(page, { correct: `${kind}:${id}` }, 'enter')}>Correct</Link>
      {press('withdraw', 'Withdraw')}
      {supersedesId !== null && press('undo-correction', 'Undo correction')}
    </div>
  )
}
