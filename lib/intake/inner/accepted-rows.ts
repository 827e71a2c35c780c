/** A row as far as keeping it apart from its doubles goes. */
export interface Kept {
  unit: string
  ref: string | null
  line: number
}

/**
 * The rows of one file that go in: exact duplicates once, and of rows with the same `ref` the last. Rows are compared
 * in full only within a unit and a day.
 */
export class AcceptedRows<Row extends Kept> {
  private duplicates = 0
  private readonly rows: Row[] = []
  private readonly byUnit = new Map<string, Map<number, Row[]>>()
  private readonly byRef = new Map<string, Row>()
  private readonly superseded = new Set<Row>()

  /** @param dayOf the day of a row; the same for all where a unit stands in the file once. */
  constructor(private readonly dayOf: (row: Row) => number) {}

  /** Takes a row in: a duplicate is counted and dropped, and a row with a known `ref` takes the other's place. */
  add(row: Row): void {
    const beside = this.beside(row)
    if (beside.some((other) => isSame(other, row))) {
      this.duplicates++
      return
    }
    const earlier = row.ref === null ? undefined : this.byRef.get(row.ref)
    if (earlier) this.supersede(earlier)
    if (row.ref !== null) this.byRef.set(row.ref, row)
    this.rows.push(row)
    beside.push(row)
  }

  /** Whether the row would stand beside another of its unit and day, neither its duplicate nor superseding it. */
  conflicts(row: Row): boolean {
    return this.beside(row).some(
      (other) => !isSame(other, row) && (row.ref === null || other.ref !== row.ref),
    )
  }

  /** In file order. */
  list(): Row[] {
    return this.superseded.size === 0 ? this.rows : this.rows.filter((row) => !this.superseded.has(row))
  }

  /** What was not simply added, in words. */
  notices(): string[] {
    const said: string[] = []
    if (this.duplicates > 0) said.push(`${this.duplicates} exact duplicates were counted once`)
    const { size } = this.superseded
    if (size > 0) said.push(`${size} rows were superseded by later rows with the same ref`)
    return said
  }

  private beside(row: Row): Row[] {
    const days = this.byUnit.get(row.unit) ?? new Map<number, Row[]>()
    this.byUnit.set(row.unit, days)
    const day = this.dayOf(row)
    const rows = days.get(day) ?? []
    days.set(day, rows)
    return rows
  }

  private supersede(row: Row): void {
    this.superseded.add(row)
    const beside = this.beside(row)
    beside.splice(beside.indexOf(row), 1)
  }
}

const isSame = (a: Kept, b: Kept): boolean => contentOf(a) === contentOf(b)
const contentOf = (row: Kept): string => JSON.stringify({ ...row, line: 0 })
