/** One cell of a workbook, by what its column was said to be, to what stands in a file of ours. */
import { readTypedCodes } from '@/lib/records/typed-codes'
import type { Day } from '@/lib/units/dates'
import { readDate } from './inner/date-cell'
import { readDistance, readNumber } from './inner/number-cell'
import { type ColumnMapping, type Mapping, MEANINGS, type Meaning, saidOf, wordKey } from './mapping'
import type { SheetCell } from './sheets'

/** What became of a cell. Where it could not be read it stays as it is written, and the row is refused with its reason. */
export interface CellRead {
  text: string
  isRead: boolean
  /** How much of a date was written; null for everything else. */
  precision: 'day' | 'month' | 'year' | null
}

/** What words stand for, and the day that is today. */
export interface ReadingGround {
  values: Mapping['values']
  today: Day
}

/** Reads a cell that is not blank; work, codes and signs, of which a cell may hold several, stay as they are. */
export function readCell(cell: SheetCell, column: ColumnMapping, ground: ReadingGround): CellRead {
  const written = oneLine(cell.text)
  const { reads } = MEANINGS[column.meaning]
  if (reads !== 'text' && reads !== 'words' && NOT_SAID.test(written)) return asWritten('')
  if (reads === 'date') return dateRead(cell, column, ground.today)
  if (reads === 'number') return numberRead(written, cell.number ?? readNumber(written, column.decimal))
  if (reads === 'distance') return numberRead(written, cell.number ?? readDistance(written, column))
  if (reads !== 'words' || column.meaning === 'signs') return asWritten(written)
  const word = saidOf(ground.values[column.meaning], wordKey(written))
  // An engine that is tied to nothing keeps its name: its vehicles come in, and are not assessed.
  return asWritten(word === undefined || (word === '' && column.meaning === 'engine') ? written : word)
}

/** What people write into a cell of figures that they leave blank. */
const NOT_SAID =
  /^(?:[-–—?]+|n\/?a|#n\/a|n\.a\.|k\. ?a\.|tbc|tba|unknown|not known|unbekannt|inconnu|desconocido)$/i

const asWritten = (text: string): CellRead => ({ text, isRead: true, precision: null })

/** Days that are still to come. */
const AHEAD: readonly Meaning[] = ['coverUntilOn', 'dueOn']

function dateRead(cell: SheetCell, { meaning, order }: ColumnMapping, today: Day): CellRead {
  const found = readDate(cell, { order, today, ahead: AHEAD.includes(meaning) })
  if (found === null) return { text: oneLine(cell.text), isRead: false, precision: null }
  return { text: found.iso, isRead: true, precision: found.precision }
}

/** A workbook's own numbers carry the dust of its arithmetic behind the twelfth figure. */
const SIGNIFICANT = 12

function numberRead(written: string, value: number | null): CellRead {
  if (value === null || !Number.isFinite(value)) return { text: written, isRead: false, precision: null }
  return { text: String(Number(value.toPrecision(SIGNIFICANT))), isRead: true, precision: null }
}

const BREAKS = /[\p{Cc}\s\u2028\u2029]+/gu

/** A text on one line, so that a row of the file is a row of the sheet. */
export const oneLine = (text: string): string => text.replace(BREAKS, ' ').trim()

/** The word that stands for a scan which found nothing. */
export const NO_CODES = 'none'

/** What a cell of codes says: codes as they are written in a file, what looks like one and is none among them. */
export type CodesRead = { codes: string[] } | 'nothing-seen' | 'nothing-said'

/** Reads the codes of a cell; a failure type behind a code is dropped. */
export function readCodes(text: string, said: Record<string, string> = {}): CodesRead {
  const key = wordKey(text)
  const word = saidOf(said, key) ?? (isNoCodes(key) ? NO_CODES : undefined)
  if (word === NO_CODES) return 'nothing-seen'
  if (word === '') return 'nothing-said'
  const { codes, unread } = readTypedCodes(word ?? text)
  const found = [...codes, ...unread]
  return { codes: found.length > 0 ? found : [oneLine(text)] }
}

const NO_CODES_WORDS =
  /^(?:[-–—]+|0|ok|okay|clear|clean|nil|none|nothing|no (?:fault |trouble )?(?:codes?|faults?|dtcs?)(?: (?:found|stored|present))?|0 codes?|keine?(?: (?:fehler|codes?|fehlercodes?))?|kein fehler|aucune?(?: (?:code|défaut|defaut))?|ningun[oa]?|sin (?:códigos|codigos|fallos))\.?$/

/** Whether the words of a cell of codes say that there were none. */
export const isNoCodes = (key: string): boolean => NO_CODES_WORDS.test(key)
