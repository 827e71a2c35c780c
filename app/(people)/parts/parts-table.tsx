import type { PartNow, PartsNow } from '@/lib/jobs/parts-now'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import table from '../../ui/list-table.module.css'
import { SortHeading } from '../../ui/sort-heading'
import { NeedBand } from './need-band'
import { PartDetail } from './part-detail'
import styles from './parts.module.css'
import { inOrder, type PartSort, type PartsAsked, partsAddress, sortedBy } from './parts-asked'
import { casesWords, comingWords, orderWords } from './parts-words'

type Props = { found: PartsNow; asked: PartsAsked; formats: Formats; mayKeep: boolean }

const COLUMNS = 8

/** Every part: what is needed, what is there, what to order by when. One is opened. */
export function PartsTable({ found, asked, formats, mayKeep }: Props) {
  const most = Math.max(1, ...found.parts.map(({ p95 }) => p95))
  const cases = casesWords(found.level, formats)
  const heading = (by: PartSort, words: string, isNumber = false) => (
    <SortHeading
      {...{ words, isNumber }}
      address={partsAddress({ ...asked, sort: sortedBy(asked, by) })}
      descending={asked.sort.by === by ? asked.sort.descending : null}
    />
  )
  return (
    <table className={table.table}>
      <caption className="for-ears">Parts that the coming weeks need; column headings sort</caption>
      <thead>
        <tr>
          {heading('part', 'Part')}
          {heading('mean', `Needed in ${found.weeks} weeks`)}
          {heading('enough', `Enough in ${cases}`, true)}
          {heading('hand', 'On hand', true)}
          {heading('coming', 'On order')}
          {heading('order', 'To order', true)}
          {heading('by', 'By when')}
          {heading('cost', 'Price of the order', true)}
        </tr>
      </thead>
      <tbody>
        {inOrder(found.parts, asked.sort).map((part) => (
          <Row key={part.part} {...{ part, found, asked, formats, mayKeep, most }} />
        ))}
      </tbody>
    </table>
  )
}

function Row({ part, found, asked, formats, mayKeep, most }: Props & { part: PartNow; most: number }) {
  const isOpen = asked.open === part.part
  const { stock, toOrder, price } = part
  return (
    <>
      <tr data-open={isOpen || undefined} id={isOpen ? 'open' : undefined}>
        <th scope="row">
          <Link
            href={
              isOpen
                ? partsAddress({ ...asked, open: null })
                : `${partsAddress({ ...asked, open: part.part })}#open`
            }
            aria-expanded={isOpen}
          >
            {part.part}
          </Link>
          <small>{usesWords(part)}</small>
        </th>
        <td className={table.wide}>
          <NeedBand {...{ part, most, formats }} />
        </td>
        <td className={table.number} data-label={`Enough in ${casesWords(found.level, formats)}`}>
          {formats.count(part.enough)}
        </td>
        <td className={table.number} data-label="On hand">
          {stock?.onHand == null ? (
            <span className={styles.soft}>not said</span>
          ) : (
            formats.count(stock.onHand)
          )}
        </td>
        <td data-label="On order">{comingWords(stock, found.today, formats)}</td>
        <td className={table.number} data-label="To order">
          {toOrder === 0 ? '–' : <strong>{formats.count(toOrder)}</strong>}
        </td>
        <td data-label="By when">{orderWords(part, found.today, formats)}</td>
        <td className={table.number} data-label="Price of the order">
          {toOrder > 0 ? (price === null ? 'no price' : formats.money(toOrder * price)) : '–'}
        </td>
      </tr>
      {isOpen && (
        <tr>
          <td colSpan={COLUMNS} className={table.wide}>
            <PartDetail {...{ part, found, formats, mayKeep }} />
          </td>
        </tr>
      )}
    </>
  )
}

function usesWords({ named }: PartNow): string {
  if (named.length === 0) return 'no weak point uses it'
  const [first] = named
  const engines = [...new Set(named.map(({ familyName }) => familyName))]
  return `${first!.name} · ${engines.length > 2 ? `${engines.length} engines` : engines.join(', ')}`
}
