import type { z } from 'zod'
import { type JsonForm, Refusal } from '@/lib/records/cells'
import { LONGEST_TEXT, tooLong } from '@/lib/records/text-limits'
import { KM_PER_MILE } from '@/lib/units/distances'
import type { Fault } from '../findings'
import { cellText, named } from './cell-text'
import { type Column, readHeader } from './header'
import { type ReadRow, rowReader } from './row-reader'

type Answer<Schema extends z.ZodObject> = { ok: true; row: ReadRow<Schema> } | { ok: false; fault: Fault }

/** More members than this has no record. */
const MOST_MEMBERS = 200

/** What a member that is no column of ours may hold: it is kept as a note. */
const NOTE: JsonForm = { type: ['string', 'number', 'boolean', 'null'] }

/**
 * How JSON objects with the columns of a file are read: their members become the cells of a row, which is then read
 * like any other, so that both take the same things.
 */
export function objectReader<Schema extends z.ZodObject>(schema: Schema) {
  const known = Object.keys(schema.shape)
  const inKilometres = rowReader(schema, columnsIn('km', known))
  const inMiles = rowReader(schema, columnsIn('mi', known))

  return (value: unknown, line: number): Answer<Schema> => {
    const members = membersOf(value, known)
    if (!Array.isArray(members)) return { ok: false, fault: members }
    const cells = known.map(() => '')
    const notes: [string, string][] = []
    for (const { column, value } of members) {
      const place = column.kind === 'known' ? known.indexOf(column.name) : -1
      const text = cellText(value, place < 0 ? NOTE : formOf(schema, known[place]!))
      if (text instanceof Refusal)
        return { ok: false, fault: { column: column.written, reason: text.reason } }
      const long = place < 0 ? tooLong(text, LONGEST_TEXT) : null
      if (long !== null) return { ok: false, fault: { column: column.written, reason: long } }
      if (place >= 0) cells[place] = text
      else if (text.trim() !== '') notes.push([column.written, text.trim()])
    }
    const miles = members.some(({ column }) => column.kind === 'known' && column.factor !== 1)
    const answer = (miles ? inMiles : inKilometres)(cells, line)
    if (answer === 'blank') return { ok: false, fault: { column: '', reason: 'is empty' } }
    if (answer.ok) answer.row.notes = Object.fromEntries(notes)
    return answer
  }
}

// Zod types `meta()` as anything; every cell of lib/records/cells.ts puts its JsonForm there.
const formOf = (schema: z.ZodObject, column: string) => schema.shape[column]?.meta() as unknown as JsonForm

/** The columns of a file in which nothing is missing. */
const columnsIn = (unit: 'km' | 'mi', known: readonly string[]): Column[] =>
  known.map((name) => {
    const miles = unit === 'mi' && name.endsWith('_km')
    return {
      kind: 'known',
      name,
      written: miles ? name.replace(/km$/, unit) : name,
      factor: miles ? KM_PER_MILE : 1,
    }
  })

/** The members of an object with the columns that they name, or what is wrong with them as a whole. */
function membersOf(value: unknown, known: readonly string[]): { column: Column; value: unknown }[] | Fault {
  const whole = (reason: string): Fault => ({ column: '', reason })
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    return whole(`found ${named(value)}, expected an object`)
  const entries = Object.entries(value)
  if (entries.length > MOST_MEMBERS)
    return whole(`has ${entries.length} members, the most taken is ${MOST_MEMBERS}`)
  const names = entries.map(([name]) => name)
  if (cellText(names, { type: ['array'] }) instanceof Refusal)
    return whole('has a member whose name holds characters that are no text')
  const header = readHeader(names, known, [])
  if (!header.ok) return whole(header.reason)
  return header.columns.map((column, i) => ({ column, value: entries[i]?.[1] }))
}
