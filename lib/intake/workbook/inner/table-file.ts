/** One CSV of ours whose lines are the rows of a sheet. */
import { csvLine } from '../../csv-line'
import { neededColumns, ROWS, type RowKind } from '../../tables'

/** Columns of ours by name, distances under their name in km, and cells that are kept as notes by their header. */
export interface FileRecord {
  cells: Record<string, string>
  notes: Record<string, string>
}

type Notes = Record<string, string>
const NO_NOTES: Notes = Object.freeze({})

export class TableFile {
  /** What a table cannot do without, and what the rows fill. */
  private readonly isUsed: boolean[]
  private readonly columns: string[]
  private readonly places: Map<string, number>
  private readonly headers: NoteHeaders
  /** Cells in the order of the columns, and notes; a hundred thousand rows are no objects each. */
  private readonly rows: string[][] = []
  private readonly notes: Notes[] = []
  private readonly atLine = new Map<number, number>()
  private readonly further: { line: number; row: number }[] = []

  constructor(
    readonly kind: RowKind,
    private readonly distance: 'km' | 'mi',
  ) {
    this.columns = Object.keys(ROWS[kind].shape)
    this.places = new Map(this.columns.map((name, place) => [name, place]))
    const needed = new Set(neededColumns(ROWS[kind]))
    this.isUsed = this.columns.map((name) => needed.has(name))
    this.headers = new NoteHeaders(this.columns)
  }

  /**
   * Puts a record on a line; where one stands there already, behind the last row of the sheet.
   *
   * @param shared what the row of the sheet says of every record; the record's own cells count before it
   */
  add(line: number, { cells, notes }: FileRecord, shared: Record<string, string> = {}): void {
    const row: string[] = new Array(this.columns.length).fill('')
    this.fill(row, shared)
    this.fill(row, cells)
    const hasNotes = this.headers.meet(notes)
    if (this.atLine.has(line)) this.further.push({ line, row: this.rows.length })
    else this.atLine.set(line, this.rows.length)
    this.rows.push(row)
    this.notes.push(hasNotes ? notes : NO_NOTES)
  }

  private fill(row: string[], cells: Record<string, string>): void {
    for (const name in cells) {
      const place = this.places.get(name)
      const text = cells[name]
      if (place === undefined || !text) continue
      row[place] = text
      this.isUsed[place] = true
    }
  }

  get records(): number {
    return this.rows.length
  }

  /** The rows whose further records stand behind the last row, in order. */
  get furtherLines(): number[] {
    return this.further.map(({ line }) => line)
  }

  /** @param last the last line that is a row of the sheet */
  bytes(headingLine: number, last: number): Uint8Array {
    const used = this.columns.flatMap((_, place) => (this.isUsed[place] ? [place] : []))
    const heading = used.map((place) => this.columns[place] ?? '')
    const written = this.distance === 'mi' ? heading.map((name) => name.replace(/_km$/, '_mi')) : heading
    const noted = this.headers.met
    const lineOf = (row: number | undefined) => {
      if (row === undefined) return '\r\n'
      const [cells = [], notes = NO_NOTES] = [this.rows[row], this.notes[row]]
      return csvLine([
        ...used.map((place) => cells[place] ?? ''),
        ...noted.map((header) => notes[header] ?? ''),
      ])
    }
    const lines: string[] = []
    for (let line = 1; line <= last; line++)
      lines.push(
        line === headingLine
          ? csvLine([...written, ...noted.map((header) => this.headers.writtenAs(header))])
          : lineOf(this.atLine.get(line)),
      )
    for (const { row } of this.further) lines.push(lineOf(row))
    return new TextEncoder().encode(lines.join(''))
  }
}

/** Headers of notes: none of them reads like a column of ours, and none stands twice. */
class NoteHeaders {
  private readonly written = new Map<string, string>()
  private readonly taken = new Set<string>()

  constructor(private readonly ours: readonly string[]) {}

  /** @returns whether there are any */
  meet(notes: Notes): boolean {
    let hasSome = false
    for (const header in notes) {
      hasSome = true
      if (this.written.has(header)) continue
      let name = header.replace(/[\p{Cc}\s\u2028\u2029]+/gu, ' ').trim() || 'note in the workbook'
      while (this.isOurs(name) || this.taken.has(name)) name += ' (workbook)'
      this.written.set(header, name)
      this.taken.add(name)
    }
    return hasSome
  }

  get met(): string[] {
    return [...this.written.keys()]
  }

  writtenAs(header: string): string {
    return this.written.get(header) ?? header
  }

  private isOurs(header: string): boolean {
    const name = header.toLowerCase().replace(/[\s-]+/g, '_')
    return this.ours.includes(name) || this.ours.includes(name.replace(/_mi$/, '_km'))
  }
}
