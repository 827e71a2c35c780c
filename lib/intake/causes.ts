/**
 * Why a row did not go in, as far as it matters for what mends it. Reasons are sentences for people, written where a
 * row is read; here they are told apart again, because a rejected row is kept, and comes back, with its sentence alone.
 */
const CAUSES = {
  file: /nothing of it was taken in$/,
  unit: /is no vehicle that was taken in/,
  'second-row': /^a second row for /,
  date: /is not a date that exists|is before 1900/,
  future: /lies after today/,
  number: /is not a number written like|cannot be right: the most taken is|^\S+ is negative/,
  blank: /^is blank, and must not be/,
  code: /is no trouble code/,
  word: /is not one of: /,
  position: /is not a position|has no positions|has positions 1 to/,
  sign: /is not a sign:/,
  bytes: /bytes that are not UTF-8|a NUL byte/,
  quote: /^a quote is not closed/,
  cells: /^the row has \d+ cells/,
  'too-long': /^has \d+ characters, the most taken is/,
} satisfies Record<string, RegExp>

export type Cause = keyof typeof CAUSES | 'other'

/** The cause that a reason speaks of. */
export function causeOf(reason: string): Cause {
  const found = Object.entries(CAUSES).find(([, pattern]) => pattern.test(reason))
  return (found?.[0] ?? 'other') as Cause
}

/** The name that a reason is about: the first that it quotes. */
export function valueIn(reason: string): string | null {
  return /^"([^"]*)"/.exec(reason)?.[1] ?? null
}

/** The name that a reason proposes instead. */
export function nearestIn(reason: string): string | null {
  return /did you mean "([^"]+)"\?/.exec(reason)?.[1] ?? null
}
