/** What a workbook seems to mean, before anybody has said so. */
import type { Family } from '@/lib/records/library'
import type { Day } from '@/lib/units/dates'
import type { TableKind } from '../tables'
import { readDate } from './inner/date-cell'
import { guessMeaning, guessReading } from './inner/guess-column'
import { guessWord } from './inner/guess-words'
import { type Remembered, rememberedFor } from './inner/remembered'
import {
  type ColumnMapping,
  type Mapping,
  MEANINGS,
  type Meaning,
  type SheetMapping,
  saidOf,
  wordKey,
} from './mapping'
import { guessTie, phrasesOf } from './phrases'
import type { ColumnProfile, SheetProfile, WorkbookProfile } from './profile'

export interface GuessGround {
  families: readonly Family[]
  today: Day
  /** In which distances are where nothing says. */
  distance: 'km' | 'mi'
  /** What was said of earlier workbooks, the latest first. */
  remembered: readonly Mapping[]
}

/** Guesses what a workbook means; what was said of an earlier one with the same columns is taken over. */
export function guessMapping(profile: WorkbookProfile, ground: GuessGround): Mapping {
  const known = profile.sheets.map((sheet) => rememberedFor(sheet, ground.remembered))
  const sheets = Object.fromEntries(
    profile.sheets.map((sheet, i) => [sheet.name, guessSheet(sheet, known[i] ?? null, ground)]),
  )
  return {
    sheets,
    values: guessValues(profile, sheets, known, ground),
    work: guessWork(profile, sheets, known, ground),
  }
}

/** What a row can say once; the next column that seems to say it too is kept as a note. */
const MAY_REPEAT: readonly Meaning[] = ['work', 'codes', 'signs', 'note', 'leftOut']

function guessSheet(profile: SheetProfile, known: Remembered | null, ground: GuessGround): SheetMapping {
  const columns: Record<string, ColumnMapping> = {}
  const taken = new Set(Object.values(known?.sheet.columns ?? {}).map(({ meaning }) => meaning))
  for (const column of profile.columns) {
    const said = saidOf(known?.sheet.columns, column.key)
    if (said) {
      columns[column.key] = { ...said }
      continue
    }
    const guessed = guessMeaning(column)
    const meaning = taken.has(guessed) && !MAY_REPEAT.includes(guessed) ? 'note' : guessed
    taken.add(meaning)
    columns[column.key] = { meaning, ...guessReading(meaning, column, ground.distance) }
  }
  sameHand(columns)
  if (!known) findIdentity(profile, columns)
  const tells = known?.sheet.tells ?? tellsOf(columns)
  return {
    tells,
    headerRow: profile.headerRow,
    columns,
    date: taken.has('date') || tells.length === 0 ? null : dateAbove(profile, ground.today),
    answers: { ...NOT_ANSWERED, ...known?.sheet.answers },
  }
}

const NOT_ANSWERED = {
  looksCover: null,
  whichOfSeveral: null,
  partVersion: null,
  before: null,
  odometerFrom: null,
}

/** Who writes one column of a sheet day first, or with a comma, writes the others so: where they agree, it is decided. */
function sameHand(columns: Record<string, ColumnMapping>): void {
  const all = Object.values(columns)
  const dates = all.filter(({ meaning }) => MEANINGS[meaning].reads === 'date')
  const numbers = all.filter(({ meaning }) => ['number', 'distance'].includes(MEANINGS[meaning].reads))
  const order = agreed(dates.map(({ order }) => (order === 'iso' ? null : order)))
  const decimal = agreed(numbers.map(({ decimal }) => decimal))
  for (const column of dates) column.order ??= order
  for (const column of numbers) column.decimal ??= decimal
}

function agreed<Value>(said: readonly (Value | null)[]): Value | null {
  const decided = new Set(said.filter((value) => value !== null))
  const [value = null] = decided
  return decided.size === 1 ? value : null
}

/** A first column of short texts, each in few rows, that nothing else says anything of, may name the vehicles. */
function findIdentity({ columns: profiles }: SheetProfile, columns: Record<string, ColumnMapping>): void {
  const said = Object.values(columns).map(({ meaning }) => meaning)
  if (said.some((meaning) => ['unit', 'plate', 'vin'].includes(meaning))) return
  // A price list has parts and work in it, but no days, odometers or engines.
  if (!said.some((meaning) => ['date', 'odometer', 'engine'].includes(meaning))) return
  const [first] = profiles.filter(({ filled }) => filled > 0)
  const column = first && columns[first.key]
  if (!first || column?.meaning !== 'note') return
  const isShort = first.values.every(({ text }) => text.length <= LONGEST_NUMBER)
  if (isShort && first.distinct > 1) column.meaning = 'unit'
}

const LONGEST_NUMBER = 20

const NAMES: readonly Meaning[] = ['unit', 'plate', 'vin']
const OF_EVENTS: readonly (readonly [TableKind, readonly Meaning[]])[] = [
  ['readings', ['odometer', 'engineHours']],
  ['codes', ['codes', 'lamp']],
  ['checks', ['signs']],
  ['repairs', ['work']],
  ['changes', ['change']],
]

/** What rows can tell with these columns; nothing where none of them names a vehicle. */
function tellsOf(columns: Record<string, ColumnMapping>): TableKind[] {
  const said = new Set(Object.values(columns).map(({ meaning }) => meaning))
  if (!NAMES.some((meaning) => said.has(meaning))) return []
  const isOfVehicles = (meaning: Meaning) =>
    'vehicles' in MEANINGS[meaning].fills && !['unit', 'plate', 'enteredOn', 'ref'].includes(meaning)
  const events = OF_EVENTS.filter(([, meanings]) => meanings.some((meaning) => said.has(meaning)))
  return [...([...said].some(isOfVehicles) ? ['vehicles' as const] : []), ...events.map(([kind]) => kind)]
}

/** The day that stands in the titles above the columns, where it is the only one. */
function dateAbove({ beginning, headerRow }: SheetProfile, today: Day): string | null {
  const cells = beginning.slice(0, Math.max(0, (headerRow ?? 1) - 1)).flat()
  const days = cells.flatMap((text) => {
    const [, , written = text] = /^(.*?[:\s])?(\d.*)$/.exec(text.trim()) ?? []
    const found = readDate({ text: written }, { order: null, today })
    return found?.precision === 'day' ? [found.iso] : []
  })
  return new Set(days).size === 1 ? (days[0] ?? null) : null
}

type Sheets = Record<string, SheetMapping>

/** The different texts of all columns of a meaning in sheets that tell of anything. */
function* columnsOf(profile: WorkbookProfile, sheets: Sheets): Generator<[Meaning, ColumnProfile]> {
  for (const { name, columns } of profile.sheets) {
    const said = saidOf(sheets, name)
    if (!said || said.tells.length === 0) continue
    for (const column of columns) {
      const mapping = saidOf(said.columns, column.key)
      if (mapping) yield [mapping.meaning, column]
    }
  }
}

function guessValues(
  profile: WorkbookProfile,
  sheets: Sheets,
  known: readonly (Remembered | null)[],
  { families }: GuessGround,
): Mapping['values'] {
  const values: Mapping['values'] = {}
  for (const each of known)
    for (const [meaning, words] of Object.entries(each?.mapping.values ?? {}))
      values[meaning as Meaning] = { ...words, ...values[meaning as Meaning] }
  for (const [meaning, column] of columnsOf(profile, sheets)) {
    if (MEANINGS[meaning].reads !== 'words') continue
    const words = { ...values[meaning] }
    for (const { text } of column.values) {
      const key = wordKey(text)
      if (Object.hasOwn(words, key)) continue
      const guessed = guessWord(meaning, text, families)
      if (guessed !== null) words[key] = guessed
    }
    values[meaning] = words
  }
  return values
}

function guessWork(
  profile: WorkbookProfile,
  sheets: Sheets,
  known: readonly (Remembered | null)[],
  { families }: GuessGround,
): Mapping['work'] {
  const work: Mapping['work'] = {}
  for (const each of known) Object.assign(work, { ...each?.mapping.work, ...work })
  for (const [meaning, column] of columnsOf(profile, sheets)) {
    if (meaning !== 'work') continue
    for (const { key, example } of phrasesOf(column.values)) {
      if (Object.hasOwn(work, key)) continue
      const tie = guessTie(example, families)
      if (tie !== null) work[key] = tie
    }
  }
  return work
}
