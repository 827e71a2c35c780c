import { type DenseWorkSheet, type ParsingOptions, read, type WorkBook } from '@e965/xlsx'
import { IntakeRefusal } from '../findings'
import { storable } from './inner/clean-text'
import { DAMAGED, lookIntoArchive, PASSWORD } from './inner/look-into-archive'
import { lookIntoOldFile } from './inner/look-into-old-file'
import { withoutPlainCells } from './inner/plain-cells'
import { sheetOf } from './inner/sheet-cells'
import { textWorkbook } from './inner/text-sheet'
import type { Workbook } from './sheets'

/** A workbook, or why there is none: one sentence that says what to do. */
export type WorkbookRead = { ok: true; workbook: Workbook } | { ok: false; reason: string }

const LARGEST_FILE = 200_000_000

/**
 * Reads a workbook, or a table of text, by what it is and not by its name: XLSX, XLSM, XLSB, XLS, ODS; CSV with commas,
 * semicolons or tabs. Numbers keep what is stored and what is shown; dates are those by their number format. Nothing is
 * reckoned: a formula is its last result.
 *
 * A workbook that asks for very much memory or time takes it: `workbook-apart` reads in a process of its own.
 *
 * @param name of the file: a text file's only sheet is called so
 * @param onShare is told about which share of the work is done, from 0 to 1
 */
export async function readWorkbook(
  name: string,
  bytes: Uint8Array,
  onShare: OnShare = () => {},
): Promise<WorkbookRead> {
  try {
    const workbook = await workbookIn(name, bytes, onShare)
    if (workbook.sheets.every(({ rows }) => rows.length === 0)) throw new IntakeRefusal(whyEmpty(workbook))
    return { ok: true, workbook }
  } catch (error) {
    if (error instanceof IntakeRefusal) return { ok: false, reason: error.message }
    throw error
  }
}

type OnShare = (done: number) => void

const EMPTY = 'It is empty: no cell of it holds anything'
const NO_RESULTS =
  'It holds formulas alone, and none of their results: open it, let it reckon, save it and bring in that'

const whyEmpty = ({ sheets }: Workbook): string =>
  sheets.some(({ noticed }) => noticed.formulasWithoutResult > 0) ? NO_RESULTS : EMPTY

const WEB_PAGE = 'It is a web page or XML under the name of a workbook: open it and save it as XLSX or CSV'

/** What else people drop by mistake, by how it begins; a text would be made of it. */
const OTHERS: readonly (readonly [string, string])[] = [
  ['%PDF', 'a PDF'],
  ['\x89PNG', 'a picture'],
  ['\xff\xd8\xff', 'a picture'],
  ['GIF8', 'a picture'],
  ['{\\rtf', 'a text document'],
]

async function workbookIn(name: string, bytes: Uint8Array, onShare: OnShare): Promise<Workbook> {
  if (bytes.length > LARGEST_FILE) throw new IntakeRefusal('It is larger than 200 MB: split it')
  const start = Buffer.from(bytes.subarray(0, 1024)).toString('latin1')
  if (start.startsWith('PK\x03\x04')) return archiveWorkbook(bytes, onShare)
  if (start.startsWith('\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1')) return oldWorkbook(bytes, onShare)
  const other = OTHERS.find(([beginning]) => start.startsWith(beginning))
  if (other) throw new IntakeRefusal(`It is ${other[1]}, not a workbook: save its table as XLSX or CSV`)
  if (/^(?:\xef\xbb\xbf|\xff\xfe)?[\s\0]*<[\0]?[!?\w]/.test(start)) throw new IntakeRefusal(WEB_PAGE)
  if (bytes.length === 0) throw new IntakeRefusal(EMPTY)
  return textWorkbook(name, bytes)
}

const MACROS = 'Its macros are not read'

async function archiveWorkbook(bytes: Uint8Array, onShare: OnShare): Promise<Workbook> {
  const parts = await lookIntoArchive(bytes)
  onShare(LOOKED_INTO)
  const hasMacros = parts.some((part) => /vbaProject\.bin$/i.test(part) || /^Basic\/.*\.xml$/.test(part))
  const read = libraryReads(bytes, { isOpenDocument: parts.includes('content.xml'), formulas: true })
  return { sheets: sheetsOf(read, onShare), notes: hasMacros ? [MACROS] : [] }
}

function oldWorkbook(bytes: Uint8Array, onShare: OnShare): Workbook {
  const { hasMacros } = lookIntoOldFile(bytes)
  onShare(LOOKED_INTO)
  const read = libraryReads(bytes, { isOpenDocument: false, formulas: false })
  return { sheets: sheetsOf(read, onShare), notes: hasMacros ? [MACROS] : [] }
}

/** Measured on 100,000 rows: which share of the time has gone by. */
const LOOKED_INTO = 0.05
const LIBRARY_DONE = 0.7

interface HowRead {
  /** Its numbers are shown as it holds them: of their formats little is known. */
  isOpenDocument: boolean
  /** Asked for to see which have no result; an old file stores a result with each. */
  formulas: boolean
}

function libraryReads(bytes: Uint8Array, how: HowRead): WorkBook {
  try {
    const thinned = how.isOpenDocument || !how.formulas ? null : withoutPlainCells(bytes)
    if (thinned === null) return read(bytes, optionsOf(how))
    const book = read(thinned.bytes, optionsOf(how))
    return thinned.putBack(book) ? book : read(bytes, optionsOf(how))
  } catch (cause) {
    const isLocked = /password|encrypt/i.test(String(cause))
    throw new IntakeRefusal(isLocked ? PASSWORD : DAMAGED, { cause })
  }
}

const optionsOf = ({ isOpenDocument, formulas }: HowRead): ParsingOptions => ({
  dense: true,
  cellNF: true,
  cellStyles: true,
  // What is shown takes the library a third of its time; it is done here, where somebody needs it.
  cellText: isOpenDocument,
  cellFormula: formulas,
  cellHTML: false,
  cellDates: false,
})

function sheetsOf({ Sheets, SheetNames, Workbook: about }: WorkBook, onShare: OnShare): Workbook['sheets'] {
  if (new Set(SheetNames).size < SheetNames.length) throw new IntakeRefusal(DAMAGED)
  const is1904 = about?.WBProps?.date1904 === true
  return SheetNames.flatMap((name, place) => {
    const source = Sheets[name] as DenseWorkSheet | null | undefined
    // The library leaves out a sheet that it cannot make sense of, and says nothing.
    if (!source) throw new IntakeRefusal(`Its sheet ${name} cannot be read. ${DAMAGED}`)
    if (source['!type'] !== undefined && source['!type'] !== 'sheet') return []
    const isHidden = (about?.Sheets?.[place]?.Hidden ?? 0) > 0
    onShare(LIBRARY_DONE + (1 - LIBRARY_DONE) * (place / SheetNames.length))
    return [sheetOf(storable(name), source, { is1904, isHidden })]
  })
}
