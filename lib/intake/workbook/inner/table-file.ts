/** One CSV of ours whose lines are the rows of a sheet. */
import { csvLine } from '../../csv-line'
import { neededColumns, TABLES, type TableKind } from '../../tables'

/** Columns of ours by name, distances under their name in km, and cells that are kept as notes by their header. */
export interface FileRecord {
  cells: Record<string, string>
  notes: Record<string, string>
}

export class TableFile {
  private readonly atLine = new Map<number, FileRecord>()
  private readonly further: { line: number; record: FileRecord }[] = []

  constructor(
    readonly kind: TableKind,
    private readonly distance: 'km' | 'mi',
  ) {}

  /** Puts a record on a line; where one stands there already, behind the last row of the sheet. */
  add(line: number, record: FileRecord): void {
    if (this.atLine.has(line)) this.further.push({ line, record })
    else this.atLine.set(line, record)
  }

  get records(): number {
    return this.atLine.size + this.further.length
  }

  /** The rows whose further records stand behind the last row, in order. */
  get furtherLines(): number[] {
    return this.further.map(({ line }) => line)
  }

  /** @param last the last line that is a row of the sheet */
  bytes(headingLine: number, last: number): Uint8Array {
    const all = [...this.atLine.values(), ...this.further.map(({ record }) => record)]
    const columns = this.columnsOf(all)
    const notes = noteHeaders(all, this.kind)
    const written = columns.map((name) => (this.distance === 'mi' ? name.replace(/_km$/, '_mi') : name))
    const lineOf = ({ cells, notes: kept }: FileRecord) =>
      csvLine([
        ...columns.map((name) => cells[name] ?? ''),
        ...Array.from(notes.keys(), (header) => kept[header] ?? ''),
      ])
    const lines: string[] = []
    for (let line = 1; line <= last; line++) {
      const record = this.atLine.get(line)
      if (line === headingLine) lines.push(csvLine([...written, ...notes.values()]))
      else lines.push(record ? lineOf(record) : '\r\n')
    }
    for (const { record } of this.further) lines.push(lineOf(record))
    return new TextEncoder().encode(lines.join(''))
  }

  private columnsOf(records: readonly FileRecord[]): string[] {
    const needed = neededColumns(TABLES[this.kind])
    const filled = new Set(records.flatMap(({ cells }) => Object.keys(cells).filter((name) => cells[name])))
    return Object.keys(TABLES[this.kind].shape).filter((name) => needed.includes(name) || filled.has(name))
  }
}

/** Headers of notes: none of them reads like a column of ours, and none stands twice. */
function noteHeaders(records: readonly FileRecord[], kind: TableKind): Map<string, string> {
  const ours = new Set(Object.keys(TABLES[kind].shape))
  const headers = new Map<string, string>()
  const taken = new Set<string>()
  for (const { notes } of records) {
    for (const header of Object.keys(notes)) {
      if (headers.has(header)) continue
      let written = header.replace(/[\p{Cc}\s\u2028\u2029]+/gu, ' ').trim() || 'note in the workbook'
      while (isOurs(written, ours) || taken.has(written)) written += ' (workbook)'
      headers.set(header, written)
      taken.add(written)
    }
  }
  return headers
}

function isOurs(header: string, ours: ReadonlySet<string>): boolean {
  const name = header.toLowerCase().replace(/[\s-]+/g, '_')
  return ours.has(name) || ours.has(name.replace(/_mi$/, '_km'))
}
