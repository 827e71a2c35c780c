import { wordKey } from '../mapping'
import { type ColumnProfile, MOST_VALUES } from '../profile'
import type { Sheet, SheetCell } from '../sheets'
import { noShapes, shapeOf } from './text-shapes'

type Row = Sheet['rows'][number]

const SAMPLES = 5

/** What a column is called, and where it stands. */
export type NamedColumn = Pick<ColumnProfile, 'key' | 'index' | 'header'>

/**
 * Names the columns of a sheet: those that the heading names, and those of which some row holds something.
 *
 * @param units a row below the heading with units alone: `Odometer` above `km` is `Odometer (km)`
 */
export function nameColumns(heading: Row, units: Row | null, rows: readonly Row[]): NamedColumn[] {
  const used = new Set<number>()
  for (const row of [heading, ...rows]) {
    row.forEach((cell, index) => {
      if (cell !== null) used.add(index)
    })
  }
  const taken = new Set<string>()
  return [...used]
    .sort((a, b) => a - b)
    .map((index) => {
      const header = headerOf(heading[index], units?.[index], index)
      return { key: ownKey(header, index, taken), index, header }
    })
}

function headerOf(
  name: SheetCell | null | undefined,
  unit: SheetCell | null | undefined,
  index: number,
): string {
  if (!name) return `column ${lettersOf(index)}`
  return unit ? `${name.text} (${unit.text})` : name.text
}

/** What a column is called by its place: A to Z, then AA. */
export function lettersOf(index: number): string {
  const letter = String.fromCharCode(65 + (index % 26))
  return index < 26 ? letter : lettersOf(Math.floor(index / 26) - 1) + letter
}

function ownKey(header: string, index: number, taken: Set<string>): string {
  const words = wordKey(header)
  // A name that every object has would be found where nobody said anything.
  const key = words in {} ? wordKey(headerOf(null, null, index)) : words
  let own = key
  for (let which = 2; taken.has(own); which++) own = `${key} (${which})`
  taken.add(own)
  return own
}

/** Counts what a column holds. */
export function profileColumn(named: NamedColumn, rows: readonly Row[]): ColumnProfile {
  const { index } = named
  const values = new Map<string, Counted>()
  const samples: SheetCell[] = []
  const column = { filled: 0, dates: 0, numbers: 0, texts: 0 }
  for (const row of rows) {
    const cell = row[index]
    if (!cell) continue
    column.filled += 1
    column[kindOf(cell)] += 1
    const known = values.get(cell.text)
    if (known === undefined && samples.length < SAMPLES) samples.push(cell)
    const isText = cell.number === undefined ? 1 : 0
    if (known === undefined) values.set(cell.text, { count: 1, texts: isText })
    else {
      known.count += 1
      known.texts += isText
    }
  }
  return {
    ...named,
    ...column,
    samples,
    distinct: values.size,
    values: commonest(values),
    shapes: shapesOf(values),
  }
}

type Counted = { count: number; texts: number }

const kindOf = ({ number, iso }: SheetCell): 'dates' | 'numbers' | 'texts' =>
  iso !== undefined ? 'dates' : number !== undefined ? 'numbers' : 'texts'

/** A column of whole letters is no list of words; a profile of it would be as large as the workbook. */
const MOST_LETTERS = 2_000_000

function commonest(values: ReadonlyMap<string, Counted>): ColumnProfile['values'] {
  const sorted = [...values]
    .map(([text, { count }]) => ({ text, count }))
    .sort((a, b) => b.count - a.count)
    .slice(0, MOST_VALUES)
  let letters = 0
  const tooMuch = sorted.findIndex(({ text }) => {
    letters += text.length
    return letters > MOST_LETTERS
  })
  return tooMuch < 0 ? sorted : sorted.slice(0, tooMuch)
}

function shapesOf(values: ReadonlyMap<string, Counted>): ColumnProfile['shapes'] {
  const shapes = noShapes()
  for (const [text, { texts }] of values) {
    const shape = texts > 0 ? shapeOf(text) : null
    if (shape !== null) shapes[shape] += texts
  }
  return shapes
}
