import type { ReactNode } from 'react'
import type { WatchlistRow as Row } from '@/lib/store/read/watchlist'
import type { WatchlistColumn } from '@/lib/store/read/watchlist-query'
import { AdviceMark } from '../ui/advice-mark'
import { ChanceDot } from '../ui/chance-dot'
import { frequency } from '../ui/chance-words'
import type { Formats } from '../ui/formats'
import { Link } from '../ui/link'
import { STATUSES } from '../ui/record-words'
import { Waiting } from '../ui/waiting'
import {
  BEING_SCORED,
  COLUMNS,
  daysAgo,
  HISTORY,
  NOT_COVERED,
  nextWords,
  placeWords,
  STOP_ORDERS,
  slotWords,
  whyNotAssessed,
} from '../ui/words'
import { changeText } from './change-text'
import type { PageView } from './page-view'
import { vehicleAddress } from './view'
import styles from './watchlist-table.module.css'

type Props = { row: Row; formats: Formats }
type RowProps = PageView & {
  row: Row
  /** Where the row stands in the whole list, the heading being 1; told where only a part of the list is there. */
  index?: number
}

/** One row. Every number keeps its exact value in the page, as the store has it. */
export function WatchlistRow({ row, index, ...page }: RowProps) {
  const { view, terms } = page
  return (
    <tr className={styles.row} data-standing={row.standing} data-unit={row.unit} aria-rowindex={index}>
      {view.columns.map((column) =>
        column === 'unit' ? (
          <UnitCell key={column} {...page} row={row} />
        ) : (
          <td key={column} data-column={column} data-label={labelOf(column, terms.slotDays)}>
            {CELLS[column]({ row, formats: page.formats })}
          </td>
        ),
      )}
    </tr>
  )
}

function UnitCell({ row, view, ownDistance }: RowProps) {
  return (
    <th scope="row" data-column="unit" className={styles.unit}>
      <input
        className={styles.pick}
        type="checkbox"
        name="only"
        value={row.unit}
        aria-label={`Select ${row.unit}`}
      />
      <Link className={styles.open} href={vehicleAddress(row.unit, view, ownDistance)}>
        {row.unit}
      </Link>
      <Small>{row.plate}</Small>
      <Small>{row.stale && BEING_SCORED}</Small>
    </th>
  )
}

/** What stands at a cell where the headings are out of sight. */
function labelOf(column: WatchlistColumn, slotDays: number): string | undefined {
  if (['advice', 'weakPoint', 'chance', 'speaks'].includes(column)) return undefined
  const { heading } = COLUMNS[column]
  return column === 'waiting' ? `${heading} ${slotWords(slotDays)}` : heading
}

const CELLS: Record<Exclude<WatchlistColumn, 'unit'>, (props: Props) => ReactNode> = {
  customer: ({ row }) => row.customer,
  contact: ({ row }) => row.contact,
  advice: ({ row: { standing } }) => (
    <>
      <AdviceMark standing={standing} />
      {standing === 'stop' && <Small>{STOP_ORDERS}</Small>}
    </>
  ),
  weakPoint: ({ row }) => (
    <>
      {row.weakPoint}
      <Small>{placeWords(row.place, row.position)}</Small>
    </>
  ),
  chance: ({ row: { pFail, pLow, pHigh, standing }, formats }) =>
    pFail !== null &&
    pLow !== null &&
    pHigh !== null && <ChanceDot {...{ pFail, pLow, pHigh, standing, formats }} />,
  speaks: (props) => <Speaks {...props} />,
  changed: ({ row, formats }) => row.changed && changeText(row.changed, formats.count),
  next: ({ row }) => nextWords(row),
  waiting: ({ row, formats }) => <Waiting cost={row.costOfWaiting} formats={formats} />,
  combined: ({ row: { combined }, formats }) =>
    combined !== null && <data value={combined}>{frequency(combined, formats.count)}</data>,
  engine: ({ row }) => row.family,
  site: ({ row }) => row.site ?? row.customer,
  status: ({ row }) => STATUSES[row.status],
  history: ({ row }) => HISTORY[row.history],
  value: ({ row, formats }) => <Money amount={row.value} formats={formats} />,
  asking: ({ row, formats }) => <Money amount={row.askingPrice} formats={formats} />,
  inStock: ({ row, formats }) =>
    row.daysInStock !== null && <data value={row.daysInStock}>{formats.count(row.daysInStock)}</data>,
  aside: (props) => <Aside {...props} />,
  odometer: (props) => <Odometer {...props} />,
  scan: (props) => <LastScan {...props} />,
}

function Small({ children }: { children: ReactNode }) {
  return children ? <small className={styles.small}>{children}</small> : null
}

/** Silence is never good news: where nothing is due stands what that rests on, and what it leaves out. */
function Speaks({ row, formats }: Props): ReactNode {
  if (row.standing === 'not-assessed') return whyNotAssessed(row.speaks)
  if (row.standing !== 'fine') return row.speaks
  const looked =
    row.lastLookedAtOn === null
      ? 'Never looked at'
      : `Looked at ${daysAgo(row.asOf - row.lastLookedAtOn, formats.count)}`
  return (
    <>
      {row.speaks}
      <Small>
        {looked}; {formats.count(row.weakPointsCovered)} weak points covered; {NOT_COVERED}
      </Small>
    </>
  )
}

function Money({ amount, formats }: { amount: number | null; formats: Formats }) {
  return amount === null ? null : <data value={amount}>{formats.money(amount)}</data>
}

/** What is set aside, with what half of such covers stay within, and 19 of 20. */
function Aside({ row: { aside, unit }, formats }: Props) {
  if (aside === null) return null
  return (
    <>
      <Link href={`/vehicles/${encodeURIComponent(unit)}/set-aside`}>
        <Money amount={aside.amount} formats={formats} />
      </Link>
      <Small>
        half within {formats.money(aside.p50)}, 19 of 20 within {formats.money(aside.p95)}
      </Small>
    </>
  )
}

function Odometer({ row: { odometerKm, odometerReadOn, odometerEstimated }, formats }: Props) {
  if (odometerKm === null) return <>not known</>
  const read = odometerReadOn === null ? 'never read' : `read ${formats.day(odometerReadOn)}`
  return (
    <>
      <data value={odometerKm}>{formats.distance(odometerKm)}</data>
      <Small>{odometerEstimated ? `estimated; ${read}` : read}</Small>
    </>
  )
}

function LastScan({ row: { lastFullScanOn, asOf, standing }, formats }: Props) {
  if (standing === 'not-assessed' && lastFullScanOn === null) return null
  if (lastFullScanOn === null) return <>never</>
  return <data value={asOf - lastFullScanOn}>{daysAgo(asOf - lastFullScanOn, formats.count)}</data>
}
