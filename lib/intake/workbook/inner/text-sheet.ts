/** A text file as a workbook of one sheet, all of whose cells are texts. */
import { isUtf8 } from 'node:buffer'
import { IntakeRefusal } from '../../findings'
import { csvRows } from '../../inner/csv'
import { decodeText } from '../../inner/text-file'
import type { SheetCell, Workbook } from '../sheets'
import { cleanText } from './clean-text'
import { refuseTooLarge } from './sheet-cells'

const NO_TABLE = 'It is no workbook and no text: save the table as XLSX or CSV and bring in that'

/**
 * Reads rows and cells as they stand between commas, semicolons or tabs; a row with a broken quote is parted all the
 * same, its quotes left in.
 *
 * @throws IntakeRefusal where the bytes are no text, or too large a table
 */
export function textWorkbook(name: string, bytes: Uint8Array): Workbook {
  const { text, note } = lettersOf(bytes)
  const said = /^sep=(.)\r?\n/i.exec(text)?.[1]
  const separator = said ?? separatorIn(text)
  const rows: (SheetCell | null)[][] = []
  let [lastFilled, width, places] = [0, 0, 0]
  for (const { cells, start, end } of csvRows(text, separator)) {
    const isDirection = said !== undefined && rows.length === 0
    const row = isDirection ? [] : rowOf(cells ?? text.slice(start, end).split(separator))
    rows.push(row)
    if (row.length > 0) lastFilled = rows.length
    width = Math.max(width, row.length)
    places += row.length + 1
    refuseTooLarge(name, lastFilled, width, places)
  }
  const noticed = { merged: 0, coloured: 0, formulasWithoutResult: 0, hiddenRows: 0, hiddenColumns: 0 }
  const sheet = { name: nameOfSheet(name), isHidden: false, rows: rows.slice(0, lastFilled), noticed }
  return { sheets: [sheet], notes: note === null ? [] : [note] }
}

const nameOfSheet = (file: string): string => cleanText(file.replace(/\.[^.]{1,5}$/, '')) || 'Sheet'

function rowOf(cells: readonly string[]): (SheetCell | null)[] {
  const row = cells.map((cell) => {
    const text = cleanText(cell)
    return text === '' ? null : { text }
  })
  return row.slice(0, row.findLastIndex((cell) => cell !== null) + 1)
}

/** No text holds these, whatever its letters: NUL and its neighbours, but for tabs, ends of lines and of files. */
const CONTROLS = new Set([...Array(32).keys()].filter((byte) => ![9, 10, 11, 12, 13, 26, 27].includes(byte)))
const WESTERN =
  'It is not in UTF-8: its letters were read as Western European ones (Windows-1252). Look whether names are right'

/** Decodes UTF-8, UTF-16 with its mark, and what else there is as Windows-1252, which spreadsheets still write. */
function lettersOf(bytes: Uint8Array): { text: string; note: string | null } {
  const mark =
    bytes[0] === 0xff && bytes[1] === 0xfe
      ? 'utf-16le'
      : bytes[0] === 0xfe && bytes[1] === 0xff
        ? 'utf-16be'
        : null
  if (mark !== null) return { text: inUtf8(new TextDecoder(mark).decode(bytes)), note: null }
  if (bytes.some((byte) => CONTROLS.has(byte))) throw new IntakeRefusal(NO_TABLE)
  if (isUtf8(bytes)) return { text: decoded(bytes), note: null }
  const { lost, others } = lostIn(new TextDecoder('utf-8').decode(bytes))
  // A few bytes that are not UTF-8 among many that are: a file that was cut off, or put together of two.
  if (others > lost)
    return {
      text: decoded(Buffer.from(new TextDecoder('utf-8').decode(bytes))),
      note: `${lost} of its letters cannot be read: they stand as �`,
    }
  return { text: inUtf8(new TextDecoder('windows-1252').decode(bytes)), note: WESTERN }
}

function lostIn(text: string): { lost: number; others: number } {
  const lost = text.split('\uFFFD').length - 1
  return { lost, others: (text.match(/[^\p{ASCII}]/gu)?.length ?? 0) - lost }
}

const inUtf8 = (text: string): string => decoded(Buffer.from(text))

function decoded(bytes: Uint8Array): string {
  const read = decodeText(bytes)
  if (!read.ok) throw new IntakeRefusal(NO_TABLE)
  return read.text
}

const SEPARATORS = [',', ';', '\t'] as const
const LINES_LOOKED_AT = 50
const LOOKED_AT = 200_000

/**
 * What stands between cells: that of which most of the first rows have as many as most others have; titles above the
 * columns, and commas inside numbers, speak for none.
 */
function separatorIn(text: string): string {
  const beginning = text.slice(0, LOOKED_AT)
  const weigh = (separator: string) => {
    const widths = new Map<number, number>()
    let looked = 0
    for (const { cells } of csvRows(beginning, separator)) {
      if (++looked > LINES_LOOKED_AT) break
      const width = cells?.length ?? 1
      if (width > 1) widths.set(width, (widths.get(width) ?? 0) + 1)
    }
    const [width = 1, rows = 0] = [...widths].sort((a, b) => b[1] - a[1] || b[0] - a[0])[0] ?? []
    return { separator, width, rows }
  }
  const [best] = SEPARATORS.map(weigh).sort((a, b) => b.rows - a.rows || b.width - a.width)
  return best && best.rows > 0 ? best.separator : ','
}
