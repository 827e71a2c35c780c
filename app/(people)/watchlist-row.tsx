import Link from 'next/link'
import type { ReactNode } from 'react'
import type { WatchlistRow as Row } from '@/lib/store/read/watchlist'
import { AdviceMark } from '../ui/advice-mark'
import { ChanceDot } from '../ui/chance-dot'
import type { Formats } from '../ui/formats'
import { Waiting } from '../ui/waiting'
import {
  COLUMNS,
  daysAgo,
  NO_SUCH_ENGINE,
  NOT_COVERED,
  placeWords,
  STOP_ORDERS,
  slotWords,
} from '../ui/words'
import type { PageView } from './page-view'
import { vehicleAddress } from './view'
import styles from './watchlist-table.module.css'

type Props = { row: Row; formats: Formats }
type RowProps = PageView & { row: Row; slotDays: number }

/** One vehicle. Every number keeps its exact value in the page, as the store has it. */
export function WatchlistRow({ row, slotDays, view, ownDistance, formats }: RowProps) {
  const { standing, pFail, pLow, pHigh } = row
  return (
    <tr className={styles.row} data-standing={standing} data-unit={row.unit}>
      <th scope="row" data-column="unit" className={styles.unit}>
        <Link className={styles.open} href={vehicleAddress(row.unit, view, ownDistance)} prefetch={false}>
          {row.unit}
        </Link>
        <Small>{row.plate}</Small>
      </th>
      <td data-column="advice">
        <AdviceMark standing={standing} />
        {standing === 'stop' && <Small>{STOP_ORDERS}</Small>}
      </td>
      <td data-column="weakPoint">
        {row.weakPoint}
        <Small>{placeWords(row.place, row.position)}</Small>
      </td>
      <td data-column="chance">
        {pFail !== null && pLow !== null && pHigh !== null && (
          <ChanceDot {...{ pFail, pLow, pHigh, standing, formats }} />
        )}
      </td>
      <td data-column="speaks">{whatSpeaks(row, formats)}</td>
      <td data-column="waiting" data-label={`${COLUMNS.waiting.heading} ${slotWords(slotDays)}`}>
        <Waiting cost={row.costOfWaiting} formats={formats} />
      </td>
      <td data-column="engine" data-label={COLUMNS.engine.heading}>
        {row.family}
      </td>
      <td data-column="site" data-label={COLUMNS.site.heading}>
        {row.site ?? row.customer}
      </td>
      <td data-column="odometer" data-label={COLUMNS.odometer.heading}>
        <Odometer row={row} formats={formats} />
      </td>
      <td data-column="scan" data-label={COLUMNS.scan.heading}>
        <LastScan row={row} formats={formats} />
      </td>
    </tr>
  )
}

function Small({ children }: { children: ReactNode }) {
  return children ? <small className={styles.small}>{children}</small> : null
}

/** Silence is never good news: where nothing is due stands what that rests on, and what it leaves out. */
function whatSpeaks(row: Row, formats: Formats): ReactNode {
  if (row.standing === 'not-assessed') return NO_SUCH_ENGINE
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
