import type { Formats } from '../../../../ui/formats'
import { NO_CAUTIONS } from '../../../../ui/library-words'
import table from '../../../../ui/list-table.module.css'
import styles from '../set-aside/set-aside.module.css'
import { addedName, jobWords, type SaleLine } from './sale-words'

type Props = { lines: SaleLine[]; currency: string | null; formats: Formats }

/** The jobs with what each brings; what a job adds to the price is typed into its row and stands in the address. */
export function SaleTable({ lines, currency, formats }: Props) {
  return (
    <form method="get" aria-label="What each adds to the price" className={styles.undo}>
      <table className={`${table.table} ${styles.typed}`}>
        <caption className="for-ears">Jobs before the sale, the best first</caption>
        <thead>
          <tr>
            <th scope="col">Job</th>
            <th scope="col" className={table.number}>
              Costs now
            </th>
            <th scope="col" className={table.number}>
              Off the cover
            </th>
            <th scope="col" className={table.number}>
              Adds to the price{currency && ` (${currency})`}
            </th>
            <th scope="col" className={table.number}>
              Margin gains
            </th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <SaleRow key={addedName(line.job)} {...{ line, formats }} />
          ))}
        </tbody>
      </table>
      <button type="submit">Reckon again</button>
    </form>
  )
}

function SaleRow({ line: { job, added, gain, low, high }, formats }: { line: SaleLine; formats: Formats }) {
  const { cost, fall, fallBand, cautions } = job
  const between = (from: number, to: number) => `between ${formats.money(from)} and ${formats.money(to)}`
  return (
    <tr>
      <th scope="row">
        {jobWords(job)}
        <small>{cautions.length > 0 ? `Cautions: ${cautions.join(' ')}` : `Cautions: ${NO_CAUTIONS}`}</small>
      </th>
      <td className={table.number} data-label="Costs now">
        {formats.money(cost)}
      </td>
      <td className={table.number} data-label="Off the cover">
        {formats.money(fall)}
        <small>{between(fallBand.low, fallBand.high)}</small>
      </td>
      <td className={table.number} data-label="Adds to the price">
        <input
          name={addedName(job)}
          inputMode="decimal"
          size={7}
          defaultValue={added === 0 ? '' : added}
          aria-label={`What ${jobWords(job)} adds to the price`}
          autoComplete="off"
        />
      </td>
      <td className={table.number} data-label="Margin gains">
        {formats.money(gain)}
        <small>{between(low, high)}</small>
      </td>
    </tr>
  )
}
