/** Eight hexadecimal digits are one number; four of them tell any rows apart that there will ever be. */
const NUMBERS = 4
const DIGITS = 8
const FIRST_ROOM = 1024
/** Fuller than this, looking for a free place takes long. */
const FULLEST = 0.6

/**
 * Which hashes have come already, of a million rows and more: 128 bits of each in one table of numbers (open
 * addressing), a fifth of what a set of texts takes.
 */
export class SeenHashes {
  private table = new Int32Array(FIRST_ROOM * NUMBERS)
  private room = FIRST_ROOM
  private held = 0

  /**
   * @param hash at least 32 hexadecimal digits, as evenly spread as those of SHA-256
   * @returns whether it is the first of its kind
   */
  add(hash: string): boolean {
    if (this.held >= this.room * FULLEST) this.grow()
    const numbers = Array.from({ length: NUMBERS }, (_, k) =>
      Number.parseInt(hash.slice(k * DIGITS, (k + 1) * DIGITS), 16),
    )
    // All zeros mark a free place.
    if (!numbers.some((number) => number !== 0)) numbers[0] = 1
    const isNew = this.put(numbers.map((number) => number | 0))
    if (isNew) this.held++
    return isNew
  }

  private put(numbers: ArrayLike<number>, from = 0): boolean {
    const { table, room } = this
    for (let place = (numbers[from]! >>> 0) % room; ; place = (place + 1) % room) {
      const at = place * NUMBERS
      let [free, same] = [true, true]
      for (let k = 0; k < NUMBERS; k++) {
        if (table[at + k] !== 0) free = false
        if (table[at + k] !== numbers[from + k]) same = false
      }
      if (same) return false
      if (!free) continue
      for (let k = 0; k < NUMBERS; k++) table[at + k] = numbers[from + k]!
      return true
    }
  }

  private grow(): void {
    const before = this.table
    this.room *= 2
    this.table = new Int32Array(this.room * NUMBERS)
    for (let at = 0; at < before.length; at += NUMBERS)
      if (before.subarray(at, at + NUMBERS).some((number) => number !== 0)) this.put(before, at)
  }
}
