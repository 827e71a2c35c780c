/**
 * The plain cells of large XLSX sheets, read here: a number, a string of the table, a text without anything to undo. The
 * workbook library reads cells in five times the time, and nearly all of a large sheet are such; it gets the sheet
 * without them, and reads all that is not plain.
 */
import { isUtf8 } from 'node:buffer'
import { randomUUID } from 'node:crypto'
import { type CellObject, CFB, type DenseWorkSheet, utils, type WorkBook } from '@e965/xlsx'

/** Smaller sheets are not worth it. */
const LEAST_BYTES = 500_000

/** A workbook whose plain cells were taken out, and what puts them back into what the library makes of it. */
export interface Thinned {
  bytes: Uint8Array
  /**
   * @returns whether each sheet was found again, once: else the workbook is odd, and the library reads it whole
   * @throws Error where a string is not in the table
   */
  putBack: (book: WorkBook) => boolean
}

interface Container {
  FullPaths: string[]
  FileIndex: { content: Uint8Array; size: number }[]
}

/** Takes plain cells out of the large sheets of an XLSX; null where it has none of which all could be understood. */
export function withoutPlainCells(bytes: Uint8Array, least = LEAST_BYTES): Thinned | null {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const container = CFB.read(buffer, { type: 'buffer' }) as Container
  const sheets: PlainSheet[] = []
  container.FullPaths.forEach((path, place) => {
    const file = container.FileIndex[place]
    if (!file || !/\/xl\/worksheets\/[^/]+\.xml$/i.test(path) || (file.content?.length ?? 0) < least) return
    const sheet = thinOut(Buffer.from(file.content))
    if (sheet === null) return
    sheets.push(sheet)
    file.content = Buffer.from(sheet.rest)
    file.size = file.content.length
  })
  if (sheets.length === 0) return null
  const rest = CFB.write(container, { fileType: 'zip', type: 'buffer' }) as Buffer
  return { bytes: rest, putBack: (book) => putBack(book, sheets) }
}

/** A cell whose style is a number, and whose string is its place in the table. */
type PlainCell = Pick<CellObject, 't' | 'v' | 'z' | 's'>

interface PlainSheet {
  /** What its first cell below all others says, so that it is known again. */
  mark: string
  /** By the index of row and column. */
  rows: PlainCell[][]
  /** Which styles they have, in the order in which the library is asked for them. */
  styles: number[]
  /** The sheet without them. */
  rest: string
}

const PLAIN = /<c r="([A-Z]{1,3})(\d{1,7})"(?: s="(\d{1,5})")?(?: t="(n|s|str)")?><v>([^<&\r\n]*)<\/v><\/c>/y
const NUMBER = /^-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?$/
const PLACE = /^\d{1,9}$/

/** Null where anything but rows and cells with their places stands among the rows. */
function thinOut(content: Buffer): PlainSheet | null {
  if (!isUtf8(content)) return null
  const xml = content.toString('utf8')
  const start = xml.indexOf('<sheetData>') + '<sheetData>'.length
  const end = xml.indexOf('</sheetData>')
  if (start < '<sheetData>'.length || end < start) return null
  const thinner = new Thinner(xml)
  if (!thinner.take(start, end)) return null
  const mark = randomUUID()
  const rest = [xml.slice(0, start), ...thinner.kept, asking(mark, thinner), xml.slice(end)].join('')
  return { mark, rows: thinner.rows, styles: [...thinner.styles], rest }
}

/** A row below all others, in which the library is asked what the styles are, and of which sheet. */
function asking(mark: string, { lastRow, styles }: Thinner): string {
  const at = (column: number) => `${utils.encode_col(column)}${lastRow + 1}`
  const cells = [...styles].map((style, i) => `<c r="${at(i + 1)}" s="${style}"><v>1</v></c>`)
  return `<row r="${lastRow + 1}"><c r="${at(0)}" t="str"><v>${mark}</v></c>${cells.join('')}</row>`
}

/** Parts the rows of a sheet into plain cells and what the library is to read. */
class Thinner {
  readonly rows: PlainCell[][] = []
  readonly styles = new Set<number>()
  readonly kept: string[] = []
  lastRow = 0
  private row: { number: number; tag: string; kept: string[] } | null = null

  constructor(private readonly xml: string) {}

  /** @returns whether all between these places was understood */
  take(start: number, end: number): boolean {
    let at: number | null = start
    while (at !== null && at < end) {
      if (this.xml.startsWith('<c ', at)) at = this.takePlain(at) ?? this.keepCell(at)
      else if (this.xml.startsWith('<row ', at)) at = this.openRow(at)
      else if (this.xml.startsWith('</row>', at)) at = this.closeRow(at)
      else at = /\s/.test(this.xml[at] ?? '') ? at + 1 : null
    }
    return at === end && this.row === null
  }

  private openRow(at: number): number | null {
    const close = this.xml.indexOf('>', at)
    const tag = this.xml.slice(at, close + 1)
    const number = Number(/ r="(\d{1,7})"/.exec(tag)?.[1] ?? 0)
    if (this.row !== null || close < 0 || number < 1) return null
    this.lastRow = Math.max(this.lastRow, number)
    if (tag.endsWith('/>')) this.kept.push(tag)
    else this.row = { number, tag, kept: [] }
    return close + 1
  }

  /** A row without a cell is of no interest, but where it is hidden. */
  private closeRow(at: number): number | null {
    if (this.row === null) return null
    const { tag, kept } = this.row
    if (kept.length > 0 || tag.includes('hidden')) this.kept.push(tag, ...kept, '</row>')
    this.row = null
    return at + '</row>'.length
  }

  /** Null for a cell that the library reads: of another type, with a formula, or with something to undo in its text. */
  private takePlain(at: number): number | null {
    PLAIN.lastIndex = at
    const match = this.row === null ? null : PLAIN.exec(this.xml)
    if (this.row === null || match === null) return null
    const [, letters = '', number, style, type = 'n', text = ''] = match
    const value = plainValue(type, text)
    const column = utils.decode_col(letters)
    const cells = this.rows[this.row.number - 1] ?? []
    // Of two in one place the library decides.
    if (value === null || Number(number) !== this.row.number || cells[column] !== undefined) return null
    const cell: PlainCell = { t: type === 'n' ? 'n' : 's', v: value }
    if (type === 's') cell.z = IN_TABLE
    if (style !== undefined) {
      cell.s = Number(style)
      this.styles.add(cell.s)
    }
    cells[column] = cell
    this.rows[this.row.number - 1] = cells
    return PLAIN.lastIndex
  }

  private keepCell(at: number): number | null {
    const close = this.xml.indexOf('>', at)
    if (this.row === null || close < 0 || !/ r="[A-Z]+\d+"/.test(this.xml.slice(at, close))) return null
    const end = endOfCell(this.xml, at, close)
    if (end !== null) this.row.kept.push(this.xml.slice(at, end))
    return end
  }
}

function endOfCell(xml: string, at: number, close: number): number | null {
  if (xml[close - 1] === '/') return close + 1
  const last = xml.indexOf('</c>', at)
  return last < 0 ? null : last + '</c>'.length
}

const IN_TABLE = 'in the table'

function plainValue(type: string, text: string): number | string | null {
  if (type === 'str') return text.includes('_x') ? null : text
  return (type === 's' ? PLACE : NUMBER).test(text) ? Number(text) : null
}

function putBack(book: WorkBook, plain: readonly PlainSheet[]): boolean {
  const strings = (book as { Strings?: ({ t?: string } | undefined)[] }).Strings ?? []
  const pairs = book.SheetNames.flatMap((name) => {
    const sheet = book.Sheets[name] as DenseWorkSheet | undefined
    const mark = sheet?.['!data']?.at(-1)?.[0]?.v
    const own = plain.find((each) => each.mark === mark)
    return sheet && own ? [{ sheet, own }] : []
  })
  if (pairs.length !== plain.length || new Set(pairs.map(({ own }) => own)).size !== plain.length)
    return false
  for (const { sheet, own } of pairs) {
    const [, ...asked] = sheet['!data'].pop() ?? []
    finish(own.rows, new Map(own.styles.map((style, i) => [style, asked[i]])), strings)
    sheet['!data'].forEach((cells, row) => {
      const all = own.rows[row] ?? []
      own.rows[row] = all
      cells.forEach((cell, column) => {
        if (cell !== undefined) all[column] = cell
      })
    })
    sheet['!data'] = own.rows as CellObject[][]
  }
  return true
}

/** Numbers of styles become what they are, and places in the table their strings. */
function finish(
  rows: readonly PlainCell[][],
  looks: ReadonlyMap<number, CellObject | undefined>,
  strings: readonly ({ t?: string } | undefined)[],
): void {
  rows.forEach((cells) => {
    cells.forEach((cell) => {
      if (cell.z === IN_TABLE) {
        const text = strings[Number(cell.v)]?.t
        if (text === undefined) throw new Error('a string is not in the table')
        cell.v = text
      }
      const look = cell.s === undefined ? undefined : looks.get(cell.s)
      cell.z = look?.z
      cell.s = look?.s
    })
  })
}
