/**
 * RFC 4180 without a header's meaning: rows, cells and physical lines. Written here and not taken from a library
 * because a broken quote must cost its own line and no other, and because a rejected row is handed back as it was
 * written; csv-parse reads the same rows in the tests. One pass, no copies beyond the cells.
 */
export interface CsvRow {
  /** Physical line on which the row begins; the first of the file is 1. */
  line: number
  /** Physical lines that it takes: more than one where a quoted cell holds line breaks. */
  lines: number
  /** Null where a quote is broken: then the row is its first physical line, and reading goes on at the next. */
  cells: string[] | null
  /** Where the row stands in the text, line break excluded. */
  start: number
  end: number
}

/** The rows of a text, in order, from a place in it on; lines end with LF or CRLF. */
export function* csvRows(
  text: string,
  separator: string,
  from = { start: 0, line: 1 },
): Generator<CsvRow, void, undefined> {
  let { start, line } = from
  while (start < text.length) {
    const row = rowAt(text, start, line, separator)
    yield row
    start = nextLine(text, row.end)
    line += row.lines
  }
}

function rowAt(text: string, start: number, line: number, separator: string): CsvRow {
  const end = endOfLine(text, start)
  const written = text.slice(start, end)
  if (!written.includes('"')) return { line, lines: 1, cells: written.split(separator), start, end }
  return quotedRow(text, start, line, separator) ?? { line, lines: 1, cells: null, start, end }
}

function endOfLine(text: string, start: number): number {
  const lineFeed = text.indexOf('\n', start)
  const end = lineFeed < 0 ? text.length : lineFeed
  return end > start && text[end - 1] === '\r' ? end - 1 : end
}

const nextLine = (text: string, end: number): number => end + (text[end] === '\r' ? 1 : 0) + 1

/** A row with quotes in it, or null where one does not close before a separator or the end of a line. */
function quotedRow(text: string, start: number, line: number, separator: string): CsvRow | null {
  const cells: string[] = []
  let lines = 1
  for (let at = start; ; at++) {
    const cell = text[at] === '"' ? quotedCell(text, at) : plainCell(text, at, separator)
    if (cell === null) return null
    cells.push(cell.value)
    lines += cell.lineBreaks
    at = cell.end
    if (isEndOfLine(text, at)) return { line, lines, cells, start, end: at }
    if (text[at] !== separator) return null
  }
}

const isEndOfLine = (text: string, at: number): boolean =>
  at >= text.length ||
  text[at] === '\n' ||
  (text[at] === '\r' && (at + 1 === text.length || text[at + 1] === '\n'))

interface Cell {
  value: string
  end: number
  lineBreaks: number
}

function plainCell(text: string, start: number, separator: string): Cell {
  let end = start
  while (text[end] !== separator && !isEndOfLine(text, end)) end++
  return { value: text.slice(start, end), end, lineBreaks: 0 }
}

/** No cell that a person wrote is longer: a quote that has not closed by then was never meant as one. */
const LONGEST_CELL = 100_000

function quotedCell(text: string, start: number): Cell | null {
  let quote = text.indexOf('"', start + 1)
  while (quote >= 0 && text[quote + 1] === '"') quote = text.indexOf('"', quote + 2)
  if (quote < 0 || quote - start > LONGEST_CELL) return null
  const value = text.slice(start + 1, quote).replaceAll('""', '"')
  return { value, end: quote + 1, lineBreaks: value.split('\n').length - 1 }
}

/** The separator of a header line: whichever of comma, semicolon and tab it holds most. */
export function separatorOf(header: string): string {
  const bare = header.replace(/"[^"]*"/g, '')
  const count = (separator: string) => bare.split(separator).length
  return [',', ';', '\t'].reduce((best, each) => (count(each) > count(best) ? each : best))
}
