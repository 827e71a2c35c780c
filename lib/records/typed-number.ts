/**
 * Reads a number as people type it: `84210`, `84 210`, `84.210`, `84,210`, `84'210`, `1.234,5`. Marks that part
 * groups of three are thousands; what is left after the last mark is decimals. `84.210` is 84,210: nobody writes
 * three decimals, and what was read is said back.
 *
 * @returns the number, or null where the text is not one; never negative
 */
export function readTypedNumber(text: string): number | null {
  const plain = text.trim().replace(BLANKS, ' ').replace(/[’´`]/g, "'")
  if (!FORM.test(plain)) return null
  const decimals = DECIMALS.exec(plain)?.[0] ?? ''
  const whole = plain.slice(0, plain.length - decimals.length)
  const marks = new Set(whole.replace(/\d/g, ''))
  if (marks.size > 1 || (marks.size === 1 && (!IN_THREES.test(whole) || marks.has(decimals.charAt(0)))))
    return null
  return Number(`${whole.replace(/\D/g, '')}.${decimals.slice(1) || '0'}`)
}

const BLANKS = /[\s\u00a0\u2007\u2009\u202f]+/g
/** Digits with single marks between them; one may be missing before a decimal mark. */
const FORM = /^\d+(?:[ '.,]\d+)*$/
/** A point or comma with one or two digits at the end, or with more where they cannot be thousands. */
const DECIMALS = /[.,](?:\d{1,2}|\d{4,})$/
const IN_THREES = /^\d{1,3}(?:[ '.,]\d{3})+$/
