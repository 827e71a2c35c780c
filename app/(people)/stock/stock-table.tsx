import { AdviceMark } from '../../ui/advice-mark'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import table from '../../ui/list-table.module.css'
import { STOCK_FILE, STOCK_SHEET } from '../../ui/page-words'
import { SortHeading } from '../../ui/sort-heading'
import { STOP_ORDERS } from '../../ui/words'
import styles from './stock.module.css'
import {
  STOCK_COLUMNS,
  type StockColumn,
  type StockLine,
  type StockSort,
  sortedBy,
  stockAddress,
} from './stock-view'
import { coverOfWords, rangeWords, shareWords, statusWords, stockHeadings } from './stock-words'

type Props = { lines: StockLine[]; sort: StockSort; share: number; formats: Formats }

const IN_WORDS: ReadonlySet<StockColumn> = new Set(['unit', 'status'])

/** Every vehicle in stock or under cover, with what is set aside for it. */
export function StockTable({ lines, sort, share, formats }: Props) {
  const headings = stockHeadings(share)
  return (
    <table className={table.table}>
      <caption className="for-ears">Vehicles in stock and under cover</caption>
      <thead>
        <tr>
          {STOCK_COLUMNS.map((column) => (
            <SortHeading
              key={column}
              words={headings[column]}
              address={stockAddress(sortedBy(column, sort))}
              descending={sort.column === column ? sort.descending : null}
              isNumber={!IN_WORDS.has(column)}
            />
          ))}
          <th scope="col">Papers</th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <StockTableRow key={line.unit} {...{ line, headings, formats }} />
        ))}
      </tbody>
    </table>
  )
}

type RowProps = { line: StockLine; headings: Record<StockColumn, string>; formats: Formats }

function StockTableRow({ line, headings, formats }: RowProps) {
  const address = `/vehicles/${encodeURIComponent(line.unit)}`
  const money = (amount: number | null) =>
    amount === null ? null : <data value={amount}>{formats.money(amount)}</data>
  return (
    <tr data-unit={line.unit}>
      <th scope="row">
        <Link href={address}>{line.unit}</Link>
        <small>{[line.plate, line.family].filter(Boolean).join(' · ')}</small>
        {line.standing === 'stop' && (
          <>
            <AdviceMark standing="stop" />
            <small>{STOP_ORDERS} The job is counted.</small>
          </>
        )}
      </th>
      <td data-label={headings.status}>
        {statusWords(line, formats)}
        <small>{coverOfWords(line, formats)}</small>
      </td>
      <td data-label={headings.days} className={table.number}>
        {line.daysInStock !== null && formats.count(line.daysInStock)}
      </td>
      <td data-label={headings.price} className={table.number}>
        {money(line.askingPrice)}
      </td>
      <td data-label={headings.value} className={table.number}>
        {money(line.value)}
      </td>
      <td data-label={headings.amount} className={table.number}>
        <AmountCell {...{ line, formats }} />
      </td>
      <td data-label={headings.share} className={table.number}>
        {shareWords(line, formats)}
      </td>
      <td data-label={headings.unknown} className={table.number}>
        {line.shareUnknown !== null && formats.share(line.shareUnknown)}
      </td>
      <td data-label="Papers" className={styles.papers}>
        <Link href={`${address}/stock-sheet`}>{STOCK_SHEET}</Link>
        <br />
        <Link href={`${address}/stock-file`}>{STOCK_FILE}</Link>
      </td>
    </tr>
  )
}

function AmountCell({ line, formats }: Pick<RowProps, 'line' | 'formats'>) {
  if (line.amount === null)
    return <>{line.standing === 'not-assessed' && !line.stale ? 'not assessed' : 'being reckoned'}</>
  return (
    <>
      <Link href={`/vehicles/${encodeURIComponent(line.unit)}/set-aside`}>
        <data value={line.amount}>{formats.money(line.amount)}</data>
      </Link>
      <small>{rangeWords(line, formats)}</small>
      {line.stale && <small>being reckoned again</small>}
    </>
  )
}
