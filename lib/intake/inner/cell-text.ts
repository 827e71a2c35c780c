import { type JsonForm, Refusal } from '@/lib/records/cells'

/** NUL, or half of a character: nothing that could be kept or written down. */
const NO_TEXT = /\0|\p{Surrogate}/u

/**
 * The text of the cell that a value of JSON stands for: numbers as they are written, true and false as yes and no, a
 * list as its members separated by spaces. Null and what is missing are blank.
 *
 * @param form what may be written in the place of that cell
 */
export function cellText(value: unknown, form: JsonForm): string | Refusal {
  if (value === null || value === undefined) return ''
  if (!takes(form, value)) return new Refusal(`found ${named(value)}, expected ${expected(form)}`)
  const parts: unknown[] = Array.isArray(value) ? value : [value]
  if (parts.length < Number(form.minItems ?? 0)) return new Refusal('is an empty list; leave it out')
  const text = parts.map(partText).join(' ')
  return NO_TEXT.test(text) ? new Refusal('holds characters that are no text') : text
}

function takes({ type }: JsonForm, value: unknown): boolean {
  if (Array.isArray(value)) return type.includes('array') && value.every(isPart)
  if (typeof value === 'number') return type.includes('number') || type.includes('integer')
  return type.some((each) => each === typeof value)
}

const isPart = (value: unknown) => typeof value === 'string' || typeof value === 'number'

function partText(value: unknown): string {
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  return String(value)
}

const NAMES: Record<string, string> = {
  string: 'text',
  number: 'a number',
  integer: 'a whole number',
  boolean: 'true or false',
  array: 'a list of text or numbers',
}

/** What a value is, in words: never itself, which may be without end. */
export function named(value: unknown): string {
  if (value === null) return 'null'
  if (Array.isArray(value)) return 'a list'
  return NAMES[typeof value] ?? 'an object'
}

const expected = ({ type }: JsonForm) =>
  type.flatMap((each) => (each === 'null' ? [] : (NAMES[each] ?? each))).join(' or ')
