import type { VehicleBid } from '@/lib/jobs/bid'
import type { Formats } from '../../ui/formats'
import table from '../../ui/list-table.module.css'
import { LOOKS } from '../../ui/record-words'
import { coverWords, firstJobsWords } from '../vehicles/[unit]/set-aside/aside-words'
import styles from '../vehicles/[unit]/set-aside/set-aside.module.css'
import { afterWords, bidWords, looksWords, priceWords, sumLines, unknownShareWords } from './bid-words'

type Sums = { retail: number; prep: number; margin: number; price: number | null }
type Props = { bid: VehicleBid; sums: Sums; formats: Formats }

/** The answer, how it comes about, and what to look at before. */
export function BidSections({ bid, sums, formats }: Props) {
  const notes = [priceWords(bid, sums.price, formats), unknownShareWords(bid, formats)]
  return (
    <>
      <section className={styles.section} aria-labelledby="bid">
        <h2 id="bid">The most to bid</h2>
        {bid.first && <p className={styles.unread}>{firstJobsWords(bid.first, formats)}</p>}
        <p className={styles.answer}>{bidWords(bid, formats)}</p>
        <Sum {...{ bid, sums, formats }} />
        {notes.flatMap((note) => (note === null ? [] : [<p key={note}>{note}</p>]))}
        <p className={styles.soft}>For a cover of {coverWords(bid.cover, formats)}.</p>
        {bid.unpriced.length > 0 && (
          <p>
            Without a price in the library, so nothing is set aside for them:{' '}
            {bid.unpriced.map((name) => name.toLowerCase()).join(', ')}.
          </p>
        )}
      </section>
      <section className={styles.section} aria-labelledby="looks">
        <h2 id="looks">Looks before it</h2>
        <p>{looksWords(bid, formats)}</p>
        {bid.looks.length > 0 && <LooksTable {...{ bid, formats }} />}
        <p className={styles.soft}>
          Worth is what knowing more before you buy saves on the average, by buying or leaving it, at the
          price that is asked; where none is, at the price at which you would just buy, where it is most.
        </p>
      </section>
    </>
  )
}

function Sum({ bid, sums, formats }: Props) {
  return (
    <table className={`${table.table} ${table.plain} ${table.narrow}`}>
      <caption className="for-ears">How the bid comes about</caption>
      <thead className="for-ears">
        <tr>
          <th scope="col">What</th>
          <th scope="col">Amount</th>
        </tr>
      </thead>
      <tbody>
        {sumLines(bid, sums).map(({ words, amount, isSum }) => (
          <tr key={words}>
            <th scope="row">{words}</th>
            <td className={table.number}>
              {isSum ? <strong>{formats.money(amount)}</strong> : formats.money(amount)}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function LooksTable({ bid, formats }: Omit<Props, 'sums'>) {
  return (
    <table className={table.table}>
      <caption className="for-ears">What each look would be worth before the bid</caption>
      <thead>
        <tr>
          <th scope="col">Look</th>
          <th scope="col" className={table.number}>
            Costs
          </th>
          <th scope="col" className={table.number}>
            Worth
          </th>
          <th scope="col">The bid after it</th>
        </tr>
      </thead>
      <tbody>
        {bid.looks.map((look) => (
          <tr key={look.kind}>
            <th scope="row">{LOOKS[look.kind]}</th>
            <td className={table.number} data-label="Costs">
              {formats.money(look.cost)}
              <small>{formats.decimal(look.hours)} h</small>
            </td>
            <td className={table.number} data-label="Worth">
              {formats.money(look.worth)}
            </td>
            <td data-label="The bid after it">
              {afterWords(look, formats).map((line) => (
                <div key={line}>{line}</div>
              ))}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
