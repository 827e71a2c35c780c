/** What a workbook seems to mean, before anybody has said so. */
import type { Family } from '@/lib/records/library'
import type { Day } from '@/lib/units/dates'
import { ROW_KINDS, type RowKind, type TableKind } from '../tables'
import { readDate } from './inner/date-cell'
import { guessMeaning, guessReading } from './inner/guess-column'
import { guessWord } from './inner/guess-words'
import { partColumnsOf } from './inner/part-columns'
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
  const said: Mapping = { sheets, values: {}, work: {} }
  for (const { mapping } of known.filter((each) => each !== null)) {
    for (const [meaning, words] of Object.entries(mapping.values)) {
      const known = meaning === 'engine' ? enginesThere(words, ground.families) : words
      said.values[meaning as Meaning] = { ...known, ...said.values[meaning as Meaning] }
    }
    said.work = { ...mapping.work, ...said.work }
  }
  return withWords(said, [...columnsOf(profile, sheets)], ground.families)
}

/** Engines that the library still has; of the others it is asked, or guessed, anew. */
function enginesThere(words: Record<string, string>, families: readonly Family[]): Record<string, string> {
  const keys = new Set(families.map(({ key }) => key))
  return Object.fromEntries(
    Object.entries(words).filter(([, engine]) => engine === '' || keys.has(engine.split('/')[0] ?? '')),
  )
}

/**
 * Guesses how columns that have just been said to be something else are read, as far as nobody has said it, what their
 * words stand for, and what rows tell with them; what people have said of words, phrases and of what rows tell stays,
 * and so do phrases that they have left untied.
 */
export function guessAnew(
  profile: WorkbookProfile,
  before: Mapping,
  after: Mapping,
  { families, distance }: Pick<GuessGround, 'families' | 'distance'>,
): Mapping {
  const had = new Set(
    [...columnsOf(profile, before.sheets)].map(({ place, meaning }) => `${place} ${meaning}`),
  )
  const changed = [...columnsOf(profile, after.sheets)].filter(
    ({ place, meaning }) => !had.has(`${place} ${meaning}`),
  )
  const said = structuredClone(after)
  for (const { sheet, meaning, column } of changed) {
    const columns = said.sheets[sheet]?.columns ?? {}
    const { order, decimal } = columns[column.key] ?? {}
    const guessed = guessReading(meaning, column, distance)
    const isSaid = (order ?? decimal ?? null) !== null
    if (!isSaid) columns[column.key] = { meaning, ...guessed }
  }
  for (const name of new Set(changed.map(({ sheet }) => sheet))) tellAnew(before, said, name)
  return withWords(said, changed, families)
}

/** Rows tell of what columns newly say, and no more of what none says any more; where somebody ticked, that stays. */
function tellAnew(before: Mapping, said: Mapping, name: string): void {
  const [had, sheet] = [saidOf(before.sheets, name), saidOf(said.sheets, name)]
  if (!had || !sheet || String(had.tells) !== String(sheet.tells)) return
  const [could, can] = [tellsOf(had.columns), tellsOf(sheet.columns)]
  sheet.tells = ROW_KINDS.filter(
    (kind) =>
      (had.tells.includes(kind) && (can.includes(kind) || !could.includes(kind))) ||
      (can.includes(kind) && !could.includes(kind)),
  )
}

/** What a row can say once; the next column that seems to say it too is kept as a note. */
const MAY_REPEAT: readonly Meaning[] = ['work', 'codes', 'signs', 'note', 'leftOut']

function guessSheet(profile: SheetProfile, known: Remembered | null, ground: GuessGround): SheetMapping {
  const columns: Record<string, ColumnMapping> = {}
  const ofParts = partColumnsOf(profile.columns, ground.families)
  const taken = new Set(Object.values(known?.sheet.columns ?? {}).map(({ meaning }) => meaning))
  for (const column of profile.columns) {
    const said = saidOf(known?.sheet.columns, column.key)
    if (said) {
      columns[column.key] = { ...said }
      continue
    }
    const guessed = ofParts ? (ofParts.get(column.key) ?? 'note') : guessMeaning(column, ground.families)
    const meaning = taken.has(guessed) && !MAY_REPEAT.includes(guessed) ? 'note' : guessed
    taken.add(meaning)
    columns[column.key] = { meaning, ...guessReading(meaning, column, ground.distance) }
  }
  sameHand(columns)
  if (!known && !ofParts) findIdentity(profile, columns)
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

/** What rows can tell with these columns; nothing where none of them names a vehicle, or a part in stock. */
function tellsOf(columns: Record<string, ColumnMapping>): RowKind[] {
  const said = new Set(Object.values(columns).map(({ meaning }) => meaning))
  if (!NAMES.some((meaning) => said.has(meaning))) return said.has('part') ? ['parts'] : []
  // A plate alone, or a VIN, may be how the rows name vehicles that are told of elsewhere.
  const isName = (meaning: Meaning) =>
    ['unit', 'plate', 'enteredOn'].includes(meaning) ||
    (meaning === 'vin' && !said.has('unit') && !said.has('plate'))
  const isOfVehicles = (meaning: Meaning) => 'vehicles' in MEANINGS[meaning].fills && !isName(meaning)
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

interface MeantColumn {
  sheet: string
  /** Its own among all columns of the workbook. */
  place: string
  meaning: Meaning
  column: ColumnProfile
}

/** The columns of which something was said. */
function* columnsOf(profile: WorkbookProfile, sheets: Mapping['sheets']): Generator<MeantColumn> {
  for (const { name, columns } of profile.sheets) {
    const said = saidOf(sheets, name)
    for (const column of columns) {
      const mapping = saidOf(said?.columns, column.key)
      if (!mapping) continue
      yield { sheet: name, place: JSON.stringify([name, column.key]), meaning: mapping.meaning, column }
    }
  }
}

/** What was said, with guesses for the words and phrases of these columns of which nothing was said. */
function withWords(said: Mapping, columns: readonly MeantColumn[], families: readonly Family[]): Mapping {
  const values = { ...said.values }
  const work = { ...said.work }
  for (const { meaning, column } of columns) {
    if (MEANINGS[meaning].reads === 'words')
      values[meaning] = { ...guessedWords(meaning, column, families), ...values[meaning] }
    if (meaning !== 'work') continue
    for (const { key, example } of phrasesOf(column.values)) {
      const tie = Object.hasOwn(work, key) ? null : guessTie(example, families)
      if (tie !== null) work[key] = tie
    }
  }
  return { ...said, values, work }
}

function guessedWords(
  meaning: Meaning,
  { values }: ColumnProfile,
  families: readonly Family[],
): Record<string, string> {
  const guessed = values.flatMap(({ text }) => {
    const word = guessWord(meaning, text, families)
    return word === null ? [] : [[wordKey(text), word] as const]
  })
  return Object.fromEntries(guessed)
}
