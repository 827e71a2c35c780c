import type { PartLine } from '@/lib/store/read/part-lines'
import type { Formats } from '../../ui/formats'
import { undoPart } from './actions'
import styles from './parts.module.css'

type Props = { lines: PartLine[]; formats: Formats; mayKeep: boolean }

const MOST_TOLD = 6

/** What was said of a part, the last first; that one can be taken back. */
export function PartHistory({ lines, formats, mayKeep }: Props) {
  const told = [...lines].reverse().slice(0, MOST_TOLD)
  if (told.length === 0) return null
  return (
    <ul className={styles.history} aria-label="What was said of it">
      {told.map((line, i) => (
        <li key={line.id}>
          {formats.day(line.day)}
          {line.byName !== null && `, ${line.byName}`}
          {line.intake !== null && ', from a file'}: {saidWords(line, formats)}
          {i === 0 && mayKeep && (
            <form action={undoPart}>
              <input type="hidden" name="id" value={line.id} />
              <button type="submit">Take it back</button>
            </form>
          )}
        </li>
      ))}
      {lines.length > told.length && <li>and {formats.count(lines.length - told.length)} before</li>}
    </ul>
  )
}

function saidWords(line: PartLine, formats: Formats): string {
  const { onHand, onOrder, dueOn, leadDays, price, supplier } = line
  const said = [
    onHand === null ? null : `${formats.count(onHand)} on hand`,
    onOrder ? `${formats.count(onOrder)} on order` : null,
    dueOn === null ? null : `due ${formats.day(dueOn)}`,
    leadDays === null ? null : `takes ${formats.count(leadDays)} days`,
    price === null ? null : `costs ${formats.exact.money(price)}`,
    supplier === null ? null : `from ${supplier}`,
  ].filter((each) => each !== null)
  return said.join(', ') || 'nothing'
}
