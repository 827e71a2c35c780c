import { contentHash } from './content-hash'

/** A row as far as keeping it apart from its doubles goes. */
export interface Kept {
  unit: string
  ref: string | null
  line: number
}

/** The rows of one file that go in: exact duplicates once, and of rows with the same `ref` the last. */
export class AcceptedRows<Row extends Kept> {
  /** Rows that repeat another. */
  duplicates = 0
  private readonly rows: Row[] = []
  private readonly superseded = new Set<Row>()
  private readonly lastOfUnit = new Map<string, Row>()
  private readonly byRef = new Map<string, Row>()
  /** By hash of the content; where two contents share one, the second lies at the next free number. */
  private readonly byContent = new Map<number, Row>()

  /** Takes a row in: a duplicate is counted and dropped, and a row with a known `ref` takes the other's place. */
  add(row: Row): void {
    let place = contentHash(row)
    for (let other = this.byContent.get(place); other; other = this.byContent.get(place)) {
      if (!this.superseded.has(other) && isSame(other, row)) {
        this.duplicates++
        return
      }
      place = (place + 1) | 0
    }
    this.byContent.set(place, row)
    this.lastOfUnit.set(row.unit, row)
    this.rows.push(row)
    if (row.ref === null) return
    const earlier = this.byRef.get(row.ref)
    if (earlier) this.superseded.add(earlier)
    this.byRef.set(row.ref, row)
  }

  /** The last row of the same unit, where this one neither repeats nor supersedes it. */
  otherOf(row: Row): Row | null {
    const other = this.lastOfUnit.get(row.unit)
    if (!other || this.superseded.has(other) || isSame(other, row)) return null
    return row.ref !== null && row.ref === other.ref ? null : other
  }

  /** Rows whose `ref` a later one has. */
  get replaced(): number {
    return this.superseded.size
  }

  /** In file order. */
  list(): Row[] {
    return this.superseded.size === 0 ? this.rows : this.rows.filter((row) => !this.superseded.has(row))
  }

  /** What was not simply added, in words. */
  notices(): string[] {
    const said: string[] = []
    if (this.duplicates > 0) said.push(`exact duplicates, counted once: ${this.duplicates}`)
    const { size } = this.superseded
    if (size > 0) said.push(`rows superseded by a later one with the same ref: ${size}`)
    return said
  }
}

const isSame = (a: Kept, b: Kept): boolean =>
  JSON.stringify({ ...a, line: 0 }) === JSON.stringify({ ...b, line: 0 })
