import { z } from 'zod'
import { type Day, parseDay } from '@/lib/units/dates'
import { nearestName } from './nearest'
import { LONGEST_NAME, LONGEST_TEXT, tooLong } from './text-limits'

/**
 * How the text of one cell becomes a value. The same schemas serve CSV cells and the string members of a
 * machine's JSON objects: nothing here knows where the text came from. Blank means unknown.
 */

/** Why a cell was not taken; the words go to a person. */
export class Refusal {
  constructor(readonly reason: string) {}
}

/** JSON Schema 2020-12 of what a machine may write in the place of a cell's text; `type` lists every type taken. */
export interface JsonForm {
  type: readonly ('string' | 'number' | 'integer' | 'boolean' | 'array' | 'null')[]
  [keyword: string]: unknown
}

/** Reads the text of a cell that is not blank. */
export type Reader<T> = ((text: string) => T | Refusal) & { json: JsonForm }

/** Makes a reader. */
export const reader = <T>(json: JsonForm, read: (text: string) => T | Refusal): Reader<T> =>
  Object.assign(read, { json })

/** An empty list is not taken for a blank that means more than nothing. */
const orBlank = ({ json }: Reader<unknown>, whenBlank: unknown): JsonForm => ({
  ...json,
  type: [...json.type, 'null'],
  ...(Array.isArray(json.enum) ? { enum: [...json.enum, '', null] } : {}),
  ...(json.type.includes('array') && whenBlank === null ? { minItems: 1 } : {}),
})

const cell = <T>(read: Reader<T>, whenBlank: T | Refusal) =>
  z
    .string()
    .default('')
    .transform((raw, context): T => {
      const text = raw.trim()
      const value = text === '' ? whenBlank : read(text)
      if (!(value instanceof Refusal)) return value
      context.issues.push({ code: 'custom', message: value.reason, input: raw })
      return z.NEVER
    })
    .meta(whenBlank instanceof Refusal ? read.json : orBlank(read, whenBlank))

/** A cell that may be blank: null. */
export const optional = <T>(read: Reader<T>) => cell<T | null>(read, null)

/** A cell that must say something. */
export const required = <T>(read: Reader<T>) => cell<T>(read, new Refusal('is blank, and must not be'))

/** A cell whose blank means a stated value. */
export const defaulted = <T>(read: Reader<T>, whenBlank: NoInfer<T>) => cell<T>(read, whenBlank)

const TEXT: JsonForm = { type: ['string', 'number'] }

/** Text of at most so many characters. */
const textUpTo = (most: number) =>
  reader({ ...TEXT, maxLength: most }, (found) => {
    const reason = tooLong(found, most)
    return reason === null ? found : new Refusal(reason)
  })

export const text = textUpTo(LONGEST_TEXT)

/** Text that is the same in capitals. */
export const capitals = reader(TEXT, (found) => found.toUpperCase())

/** Text by which something is found again. */
export const name = textUpTo(LONGEST_NAME)

const quoted = (found: string) => `"${found.length > 40 ? `${found.slice(0, 40)}…` : found}"`

/** ISO 8601 calendar dates from 1900 on: an earlier one is a slip, and would be an absurd age. */
export const date = reader({ type: ['string'], format: 'date' }, (found): Day | Refusal => {
  const day = parseDay(found)
  if (day === null) return new Refusal(`${quoted(found)} is not a date that exists, written like 2026-06-30`)
  return found < '1900' ? new Refusal(`${quoted(found)} is before 1900`) : day
})

const DECIMAL = /^-?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/

/**
 * Numbers from 0 to `limit`: digits with a point for decimals. A power of ten (`1e+05`) is taken, because R and
 * spreadsheets write 100,000 like that; thousands marks and decimal commas are not, because they can be mistaken.
 */
export const numberUpTo = (limit: number, unit = ''): Reader<number> =>
  reader({ type: ['number', 'string'], minimum: 0, maximum: limit }, (found) => {
    if (!DECIMAL.test(found)) return new Refusal(`${quoted(found)} is not a number written like 84210.5`)
    const value = Number(found)
    if (value < 0) return new Refusal(`${found} is negative`)
    const most = `${limit.toLocaleString('en')}${unit && ` ${unit}`}`
    return value > limit ? new Refusal(`${found} cannot be right: the most taken is ${most}`) : value + 0
  })

/** One of a list of words, written exactly so. */
export const oneOf = <const Word extends string>(words: readonly Word[]): Reader<Word> =>
  reader({ type: ['string'], enum: words }, (found) => {
    const word = words.find((candidate) => candidate === found)
    return word ?? new Refusal(unknownName(found, words))
  })

/** "x" is not one of …, with the nearest of the names that are known. */
export function unknownName(found: string, known: readonly string[]): string {
  const near = nearestName(found, known)
  const list = known.length > 12 ? `${known.slice(0, 12).join(', ')}, …` : known.join(', ')
  return `${quoted(found)} is not one of: ${list || 'none are known'}${near === null ? '' : `; did you mean "${near}"?`}`
}

const YES_OR_NO = oneOf(['yes', 'no'])

export const yesNo = reader(
  { type: ['boolean', 'string'], enum: [true, false, 'yes', 'no'] },
  (found): boolean | Refusal => {
    const word = YES_OR_NO(found)
    return word instanceof Refusal ? word : word === 'yes'
  },
)

const POSITION = /^[1-9]\d?$/

/** `all`, or position numbers separated by spaces: sorted, each once. */
export const positionList = reader(
  { type: ['array', 'string', 'integer'], items: { type: 'integer', minimum: 1, maximum: 99 } },
  (found): 'all' | number[] | Refusal => {
    if (found === 'all') return 'all'
    const parts = found.split(/\s+/)
    const odd = parts.find((part) => !POSITION.test(part))
    if (odd !== undefined)
      return new Refusal(`${quoted(odd)} is not a position: write all, or numbers like 1 3`)
    return [...new Set(parts.map(Number))].sort((a, b) => a - b)
  },
)

/** A sign, and where it was: null where no position was given. */
export interface SignAt {
  sign: string
  position: number | null
}

/** Sign keys separated by spaces, `key@3` for position 3; each once. */
export const signList = reader(
  { type: ['array', 'string'], items: { type: 'string' } },
  (found): SignAt[] | Refusal => {
    const seen: SignAt[] = []
    for (const part of new Set(found.split(/\s+/))) {
      const [sign = '', position, ...rest] = part.split('@')
      const well = sign !== '' && rest.length === 0 && (position === undefined || POSITION.test(position))
      if (!well) return new Refusal(`${quoted(part)} is not a sign: write its key, or key@3 for position 3`)
      seen.push({ sign, position: position === undefined ? null : Number(position) })
    }
    return seen
  },
)
