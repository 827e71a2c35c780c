import { type PartNow, type PartsNow, stockOf } from '@/lib/jobs/parts-now'
import { readPartLines } from '@/lib/store/read/part-lines'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../require-person'
import { frequency } from '../../ui/chance-words'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import { PartHistory } from './part-history'
import styles from './parts.module.css'
import { StockForm } from './stock-form'

type Props = { part: PartNow; found: PartsNow; formats: Formats; mayKeep: boolean }

/** One part: how its need may come out, which vehicles make it, what is said of its stock and was said before. */
export async function PartDetail({ part, found, formats, mayKeep }: Props) {
  const { database, organisation } = await requirePerson()
  const lines = await withOrganisation(database, organisation, (scope) => readPartLines(scope, part.part))
  return (
    <div className={styles.detail}>
      <section aria-labelledby="need">
        <h2 id="need">How many in {found.weeks} weeks</h2>
        <Distribution part={part} formats={formats} />
        <p className={styles.soft}>
          {enoughWords(part, formats)} {coveredWords(part, formats)}
          {part.planned > 0 &&
            ` ${formats.count(part.planned)} of them for ${part.planned === 1 ? 'a planned job' : 'planned jobs'}.`}
          {part.setOf !== null &&
            ` Replaced as a set: where one fails, up to ${formats.count(part.setOf)} may be wanted at once, which is not counted here.`}
        </p>
      </section>
      <section aria-labelledby="makers">
        <h2 id="makers">For which vehicles</h2>
        <Makers {...{ part, formats }} />
      </section>
      <section aria-labelledby="stock">
        <h2 id="stock">In stock</h2>
        {mayKeep ? (
          <StockForm stock={stockOf(part)} />
        ) : (
          <p>You may see this. What is in stock is entered by whoever works with the parts.</p>
        )}
        <PartHistory {...{ lines, formats, mayKeep }} />
      </section>
    </div>
  )
}

const enoughWords = ({ p90, p95 }: PartNow, formats: Formats): string =>
  p90 === p95
    ? `${formats.count(p95)} are enough in 19 of 20 cases.`
    : `${formats.count(p90)} are enough in 9 of 10 cases, ${formats.count(p95)} in 19 of 20.`

function coveredWords({ stock, covered }: PartNow, formats: Formats): string {
  if (!stock || stock.onHand === null) return 'Nobody has said how many there are; reckoned as none.'
  return `What is there and on order is enough with a chance of ${formats.share(covered)}.`
}

const MOST_BARS = 14

/** The chance of each count; far ends are taken together. */
function Distribution({ part: { need, mean }, formats }: { part: PartNow; formats: Formats }) {
  const all = [...need.chance].map((chance, i) => ({ count: need.offset + i, chance }))
  const told = all.filter(({ chance }) => chance >= 0.005).slice(0, MOST_BARS)
  const largest = Math.max(...told.map(({ chance }) => chance), 0)
  const beyond = all.filter(({ count }) => count > (told.at(-1)?.count ?? 0))
  const more = beyond.reduce((sum, { chance }) => sum + chance, 0)
  return (
    <table className={styles.bars}>
      <caption>{formats.tally(mean)} on the mean</caption>
      <thead className="for-ears">
        <tr>
          <th scope="col">Needed</th>
          <th scope="col">Chance</th>
        </tr>
      </thead>
      <tbody>
        {told.map(({ count, chance }) => (
          <tr key={count}>
            <th scope="row">{count === 0 ? 'none' : formats.count(count)}</th>
            <td>
              <meter className={styles.bar} min={0} max={largest} value={chance} aria-hidden="true" />{' '}
              {formats.share(chance)}
            </td>
          </tr>
        ))}
        {more >= 0.005 && (
          <tr>
            <th scope="row">more</th>
            <td>{formats.share(more)}</td>
          </tr>
        )}
      </tbody>
    </table>
  )
}

const MOST_VEHICLES = 12

function Makers({ part: { makers, named }, formats }: { part: PartNow; formats: Formats }) {
  const told = makers.filter(({ chance }) => chance >= 0.001).slice(0, MOST_VEHICLES)
  if (told.length === 0) return <p>None: nothing of it is likely to fail, and no job is planned.</p>
  const nameOf = ({ family, weakPoint }: PartNow['makers'][number]) =>
    named.find((each) => each.family === family && each.weakPoint === weakPoint)?.name ?? weakPoint
  return (
    <>
      <ol className={styles.makers}>
        {told.map((maker) => (
          <li key={`${maker.unit} ${maker.weakPoint} ${maker.position}`}>
            <Link href={`/vehicles/${encodeURIComponent(maker.unit)}`}>{maker.unit}</Link>
            <span>
              {nameOf(maker)}
              {maker.position > 1 || told.some((other) => other.position > 1) ? ` ${maker.position}` : ''}
            </span>
            <span>
              {maker.plannedOn === null
                ? `fails: ${frequency(maker.chance, formats.count)}`
                : `planned, ${formats.day(maker.plannedOn)}`}
            </span>
          </li>
        ))}
      </ol>
      {makers.length > told.length && <p className={styles.soft}>And others, each less likely.</p>}
    </>
  )
}
