import { z } from 'zod'
import type { CallRow } from '@/lib/jobs/calls'

/** The columns that the lists are sorted by. */
export const CALL_COLUMNS = ['vehicle', 'customer', 'price', 'saving', 'chance', 'nothing', 'heard'] as const
export type CallColumn = (typeof CALL_COLUMNS)[number]

/** What the address says: what is looked for, which engine, in which order. */
export type CallsView = { q: string; engine: string; sort: CallColumn; descending: boolean }

const SORT = z.object({ column: z.enum(CALL_COLUMNS), descending: z.boolean() })
const USUAL = { sort: 'saving', descending: true } as const

type Parameters = Record<string, string | string[] | undefined>
const one = (value: string | string[] | undefined) => (Array.isArray(value) ? value[0] : value) ?? ''

/** Reads the address; what it does not understand is the usual. */
export function callsViewIn(parameters: Parameters): CallsView {
  const text = one(parameters.sort)
  const sort = SORT.safeParse({ column: text.replace(/^-/, ''), descending: text.startsWith('-') })
  return {
    q: one(parameters.q).trim(),
    engine: one(parameters.engine),
    ...(sort.success ? { sort: sort.data.column, descending: sort.data.descending } : USUAL),
  }
}

/** The address of a view. */
export function callsAddress({ q, engine, sort, descending }: CallsView, page = '/calls'): string {
  const parameters = new URLSearchParams({
    ...(q && { q }),
    ...(engine && { engine }),
    ...((sort !== USUAL.sort || descending !== USUAL.descending) && { sort: descending ? `-${sort}` : sort }),
  })
  return parameters.size === 0 ? page : `${page}?${parameters}`
}

/** Money and chances begin with the largest, words with the first. */
const BEGINS_LARGE: readonly CallColumn[] = ['price', 'saving', 'chance', 'nothing']

/** The same, sorted by a column; turned round where it is already. */
export function callsSortedBy(view: CallsView, column: CallColumn): CallsView {
  const descending = view.sort === column ? !view.descending : BEGINS_LARGE.includes(column)
  return { ...view, sort: column, descending }
}

const VALUE: Record<CallColumn, (row: CallRow) => string | number | null> = {
  vehicle: ({ unit }) => unit,
  customer: ({ customer }) => customer,
  price: ({ money }) => money?.price ?? null,
  saving: ({ money }) => money?.saving ?? null,
  chance: ({ money }) => money?.chance.pFail ?? null,
  nothing: ({ money }) => money?.allGood ?? null,
  heard: ({ lastRecordOn }) => lastRecordOn,
}

/** The rows that are looked for, in their order; what has no value comes last, equal ones by vehicle. */
export function callsIn(rows: readonly CallRow[], { q, engine, sort, descending }: CallsView): CallRow[] {
  const words = q.toLocaleLowerCase('en')
  const has = ({ unit, plate, customer, money }: CallRow) =>
    [unit, plate, customer, ...(money?.jobs.map(({ name }) => name) ?? [])].some((text) =>
      text?.toLocaleLowerCase('en').includes(words),
    )
  const found = rows.filter((row) => (engine === '' || row.family === engine) && (words === '' || has(row)))
  const compare = new Intl.Collator('en', { numeric: true }).compare
  return found.sort((a, b) => {
    const [one, other] = [VALUE[sort](a), VALUE[sort](b)]
    if (one === null || other === null)
      return Number(one === null) - Number(other === null) || compare(a.unit, b.unit)
    const order = typeof one === 'string' ? compare(one, String(other)) : one - Number(other)
    return (descending ? -order : order) || compare(a.unit, b.unit)
  })
}

export type CallKind = 'telephone' | 'write' | 'ask-first' | 'silent'

/** The rows of one kind; those where nothing is due, or nobody knows the engine, are counted, not listed. */
export const ofKind = (rows: readonly CallRow[], kind: CallKind): CallRow[] =>
  rows.filter(({ call }) => call.kind === kind && !(call.kind === 'silent' && isPlain(call.silence.why)))

const isPlain = (why: string) => why === 'nothing-due' || why === 'not-assessed'
