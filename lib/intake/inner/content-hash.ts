const PRIME = 0x01000193
const number = new Float64Array(1)
const halves = new Int32Array(number.buffer)

/**
 * A 32-bit number that rows of equal content share and others hardly ever (FNV-1a, Fowler, Noll and Vo, over
 * characters and halves of numbers); where a row came from, its `line`, does not count. A few nanoseconds a character
 * and no memory: a file may hold millions of rows.
 */
export function contentHash(row: object): number {
  let hash = 0x811c9dc5
  for (const name in row) if (name !== 'line') hash = mix(hash, Reflect.get(row, name))
  return hash
}

function mix(hash: number, value: unknown): number {
  if (typeof value === 'string') return mixText(hash, value)
  if (typeof value === 'number') {
    number[0] = value
    return Math.imul(Math.imul(hash ^ halves[0]!, PRIME) ^ halves[1]!, PRIME)
  }
  return value === null ? Math.imul(hash, PRIME) : mixText(hash, JSON.stringify(value))
}

function mixText(start: number, text: string): number {
  let hash = start
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), PRIME)
  return Math.imul(hash ^ 0xff, PRIME)
}
