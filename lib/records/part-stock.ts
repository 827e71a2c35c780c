/** What is known of a part: how many there are and are to come, how long it takes, what it costs, who supplies it. */
import { z } from 'zod'
import { type Day, formatDay } from '@/lib/units/dates'
import { date, name, numberUpTo, optional, Refusal, reader, required, text } from './cells'
import type { Fields } from './rows'

const MOST_PIECES = 1_000_000
const MOST_LEAD_DAYS = 3650

/** Pieces are counted, and so are days: half a one is a slip. */
const wholeUpTo = (limit: number, unit: string) => {
  const number = numberUpTo(limit, unit)
  return reader({ ...number.json, type: ['integer', 'string'] }, (found) => {
    const value = number(found)
    return value instanceof Refusal || Number.isInteger(value)
      ? value
      : new Refusal(`${found} is not a whole number`)
  })
}

const pieces = wholeUpTo(MOST_PIECES, 'pieces')

/** A column with what it means in one sentence, and two examples as they stand in a file. */
const says = <Cell extends z.ZodType>(cell: Cell, description: string, ...examples: [string, string]): Cell =>
  cell.meta({ description, examples })

/** The columns of `parts.csv`; money in the organisation's currency. */
export const partColumns = z.object({
  part: says(
    required(name),
    'The part, by its key in the library; one that no weak point uses is kept.',
    'INJ-22',
    'GSK-7',
  ),
  on_hand: says(optional(pieces), 'How many there are.', '4', '0'),
  on_order: says(optional(pieces), 'How many are ordered and not there yet.', '2', ''),
  due_on: says(optional(date), 'When those are to come.', '2026-07-14', ''),
  lead_days: says(
    optional(wholeUpTo(MOST_LEAD_DAYS, 'days')),
    'Days from ordering it until it is there.',
    '6',
    '21',
  ),
  price: says(optional(numberUpTo(1_000_000_000)), 'What one costs.', '180', '12.50'),
  supplier: says(optional(text), 'Who supplies it.', 'Reed', ''),
})

/** A row of `parts.csv`. */
export type PartRow = Fields<z.output<typeof partColumns>> & { notes: Record<string, string> }

/** What stands of a part; null is not known. */
export interface PartStock {
  part: string
  onHand: number | null
  /** None on order is 0 where the stock was stated, null where nobody has said anything of it. */
  onOrder: number | null
  dueOn: Day | null
  leadDays: number | null
  price: number | null
  supplier: string | null
}

/** What was said of a part: all of it (`whole`), or a row of a file, whose blanks leave what stands. */
export type PartSaid = PartStock & { whole: boolean }

const unknownPart = (part: string): PartStock => ({
  part,
  onHand: null,
  onOrder: null,
  dueOn: null,
  leadDays: null,
  price: null,
  supplier: null,
})

/**
 * What stands of a part after something was said of it. The stock is one statement: where a row says how many there are
 * or are to come, blanks beside it mean none on order and no day. Each other cell that is blank leaves what stands.
 */
export function afterSaid(standing: PartStock | null, said: PartSaid): PartStock {
  const { whole, ...line } = said
  const before = whole || !standing ? unknownPart(said.part) : standing
  const saysStock = said.onHand !== null || said.onOrder !== null || said.dueOn !== null
  const stock = saysStock
    ? { onHand: said.onHand, onOrder: said.onOrder ?? 0, dueOn: said.dueOn }
    : { onHand: before.onHand, onOrder: before.onOrder, dueOn: before.dueOn }
  return {
    part: line.part,
    ...stock,
    leadDays: said.leadDays ?? before.leadDays,
    price: said.price ?? before.price,
    supplier: said.supplier ?? before.supplier,
  }
}

/** What stands of each part, by its name, after all that was said in its order. */
export function standingParts(said: Iterable<PartSaid>): Map<string, PartStock> {
  const parts = new Map<string, PartStock>()
  for (const line of said) parts.set(line.part, afterSaid(parts.get(line.part) ?? null, line))
  return parts
}

/** What is wrong with a line whose cells could each be read; null where nothing is. */
export function faultOfPart({ onOrder, dueOn }: Pick<PartStock, 'onOrder' | 'dueOn'>): {
  column: 'due_on'
  reason: string
} | null {
  if (dueOn === null || (onOrder ?? 0) > 0) return null
  return {
    column: 'due_on',
    reason: `says that something is to come on ${formatDay(dueOn)}, but on_order says that nothing is`,
  }
}
