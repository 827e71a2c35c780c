import type { CallRow } from '@/lib/jobs/calls'
import { aboutFrequency, chanceInBand } from '../../ui/chance-words'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import table from '../../ui/list-table.module.css'
import { SortHeading } from '../../ui/sort-heading'
import { CALL_COLUMNS } from '../../ui/told-words'
import styles from '../proposals/proposals.module.css'
import { jobName, savingWords } from '../vehicles/[unit]/proposal-words'
import { silenceWords, telephoneWords } from './call-words'
import own from './calls.module.css'
import { type CallColumn, type CallsView, callsAddress, callsSortedBy } from './calls-view'

type Props = {
  kind: CallRow['call']['kind']
  title: string
  /** What is to be done with them, in one sentence. */
  about: string
  rows: CallRow[]
  view: CallsView
  formats: Formats
}

/** Customers' vehicles of one kind; nothing where there are none. */
export function CallTable({ kind, title, about, rows, view, formats }: Props) {
  if (rows.length === 0) return null
  const columns = COLUMNS[kind]
  return (
    <section className={styles.section}>
      <h2 id={kind}>{title}</h2>
      <p>{about}</p>
      <table className={`${table.table} ${own.table}`}>
        <caption className="for-ears">{title}. Column headings sort.</caption>
        <thead>
          <tr>
            {columns.map((column) => (
              <Heading key={column} {...{ column, view }} />
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.unit}>
              {columns.map((column) => (
                <Cell key={column} {...{ column, row, formats }} />
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

type Shown = CallColumn | 'jobs' | 'why' | 'letter'

const MONEY = ['saving', 'jobs', 'price', 'chance', 'nothing'] as const
const COLUMNS: Record<Props['kind'], readonly Shown[]> = {
  telephone: ['vehicle', 'customer', 'why', 'heard'],
  write: ['vehicle', 'letter', 'customer', ...MONEY],
  'ask-first': ['vehicle', 'customer', 'heard', 'saving', 'jobs', 'price', 'chance'],
  silent: ['vehicle', 'customer', 'why', 'saving', 'jobs'],
}
const NUMBERS: readonly Shown[] = ['price', 'saving']

function Heading({ column, view }: { column: Shown; view: CallsView }) {
  const { heading, meaning } = CALL_COLUMNS[column]
  if (column === 'jobs' || column === 'why' || column === 'letter')
    return (
      <th scope="col" title={meaning}>
        {heading}
      </th>
    )
  return (
    <SortHeading
      {...{ words: heading, meaning, isNumber: NUMBERS.includes(column) }}
      address={callsAddress(callsSortedBy(view, column))}
      descending={view.sort === column ? view.descending : null}
    />
  )
}

function Cell({ column, row, formats }: { column: Shown; row: CallRow; formats: Formats }) {
  const { unit, plate, customer, contact, familyName, money, lastRecordOn, call } = row
  const label = CALL_COLUMNS[column].heading
  const address = `/vehicles/${encodeURIComponent(unit)}`
  switch (column) {
    case 'vehicle':
      return (
        <th scope="row">
          <Link href={address}>{unit}</Link>{' '}
          <small>{[plate !== unit && plate, familyName].filter(Boolean).join(' · ')}</small>
        </th>
      )
    case 'customer':
      return (
        <td data-label={label}>
          {customer ?? 'not on record'}{' '}
          <small>{contact ?? (customer !== null && 'no contact on record')}</small>
        </td>
      )
    case 'why':
      return (
        <td className={`${table.wide} ${own.why}`}>
          {call.kind === 'telephone' && telephoneWords(row, formats)}
          {call.kind === 'silent' && silenceWords(call.silence, formats)}
        </td>
      )
    case 'heard':
      return <td data-label={label}>{lastRecordOn === null ? 'never' : formats.day(lastRecordOn)}</td>
    case 'jobs':
      return (
        <td className={`${table.wide} ${own.why}`}>
          {money?.jobs.map((job) => jobName(job, job.positions)).join('; ')}
        </td>
      )
    case 'price':
      return (
        <td className={table.number} data-label={label}>
          {money && formats.roughMoney(money.price)}
        </td>
      )
    case 'saving':
      return (
        <td className={`${table.number} ${table.wraps}`} data-label={label}>
          {money && savingWords(money, formats)}
        </td>
      )
    case 'chance':
      return <td data-label={label}>{money && chanceInBand(money.chance, formats.count)}</td>
    case 'nothing':
      return <td data-label={label}>{money && aboutFrequency(money.allGood, formats.count)}</td>
    case 'letter':
      return (
        <td>
          <Link href={`${address}/letter`} aria-label={`Letter about ${unit}`}>
            Letter
          </Link>
        </td>
      )
  }
}
