import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import table from '../../ui/list-table.module.css'
import { SortHeading } from '../../ui/sort-heading'
import { type MoneyAsked, type MoneyColumn, moneyAddress, sortedBy } from './money-asked'
import { bandWords } from './money-words'
import type { QuarterLine } from './read-money-page'

type Props = { lines: QuarterLine[]; of: string; asked: MoneyAsked; formats: Formats }

/** The coming quarter by weak point, or by site. A weak point leads to its policies. */
export function QuarterTable({ lines, of, asked, formats }: Props) {
  const heading = (column: MoneyColumn, words: string) => (
    <SortHeading
      {...{ words, isNumber: column !== 'name' }}
      address={moneyAddress(sortedBy(asked, column))}
      descending={asked.column === column ? asked.descending : null}
    />
  )
  return (
    <table className={table.table}>
      <caption className="for-ears">The coming quarter by {of.toLowerCase()}; column headings sort</caption>
      <thead>
        <tr>
          {heading('name', of)}
          <th scope="col" className={table.number}>
            Vehicles
          </th>
          {heading('failures', 'Failures')}
          {heading('money', 'Money')}
        </tr>
      </thead>
      <tbody>
        {lines.map(({ key, name, beside, vehicles, failures, money, point }) => (
          <tr key={key}>
            <th scope="row">
              {point ? <Link href={`${moneyAddress({ ...asked, point })}#policies`}>{name}</Link> : name}
              {beside && <small>{beside}</small>}
            </th>
            <td data-label="Vehicles" className={table.number}>
              {formats.count(vehicles)}
            </td>
            <td data-label="Failures" className={table.number}>
              <data value={failures.mean}>{formats.tally(failures.mean)}</data>
              <small>{bandWords(failures, formats.tally)}</small>
            </td>
            <td data-label="Money" className={table.number}>
              {money === null ? (
                'no price'
              ) : (
                <>
                  <data value={money.mean}>{formats.roughMoney(money.mean)}</data>
                  <small>{bandWords(money, formats.roughMoney)}</small>
                </>
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
