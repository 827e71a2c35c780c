/** What a column seems to be, by its header and by what stands in it. */

import type { Family } from '@/lib/records/library'
import { readTypedCodes } from '@/lib/records/typed-codes'
import { type ColumnMapping, MEANINGS, type Meaning } from '../mapping'
import type { ColumnProfile } from '../profile'
import { isNoCodes } from '../read-cells'
import { engineOfWords } from './engine-of-words'
import { meaningOfHeader, OF_ANOTHER_DAY, plainHeader } from './header-words'
import { readNumber } from './number-cell'
import { actionIn, isPart, wordsOf } from './trade-words'

/** Where most cells look like something. */
const MOST = 0.6
const SOME = 0.3

/** The share of a column's cells for which something holds, by its different values. */
function share({ values }: ColumnProfile, holds: (text: string) => boolean): number {
  const all = values.reduce((sum, { count }) => sum + count, 0)
  const some = values.reduce((sum, { text, count }) => sum + (holds(text) ? count : 0), 0)
  return all === 0 ? 0 : some / all
}

/** Words that name engines of the library, whatever the column is called: "type", "model". */
const namesEngines = (column: ColumnProfile, families: readonly Family[]): boolean =>
  share(column, (text) => /\p{L}{3}/u.test(text) && engineOfWords(text, families) !== null) > MOST

const VIN = /^[A-HJ-NPR-Z0-9]{17}$/i
const isVin = (text: string) => VIN.test(text.replace(/[\s-]/g, '')) && /\d/.test(text) && /[a-z]/i.test(text)
const holdsCodes = (text: string) => readTypedCodes(text).codes.length > 0
const tellsOfWork = (text: string) => {
  const words = wordsOf(text)
  return words.length > 1 && (actionIn(words) !== null || words.some(isPart))
}
const DISTANCE = /^[\d.,' ]+ ?(?:tkm|k ?km|km|kms|mi|miles|k)$/i

/** How many of the filled cells are dates of the workbook's own or look like one. */
function dateShare({ filled, dates, shapes }: ColumnProfile): number {
  const written = shapes.iso + shapes.dayFirst + shapes.monthFirst + shapes.eitherOrder + shapes.monthOnly
  return filled === 0 ? 0 : (dates + written) / filled
}

const numberShare = (column: ColumnProfile): number =>
  Math.max(
    column.filled === 0 ? 0 : column.numbers / column.filled,
    share(column, (text) => DISTANCE.test(text) || readNumber(text, null) !== null),
  )

/** Whether what stands in a column can be what its header says. */
function canBe(meaning: Meaning, column: ColumnProfile): boolean {
  const { reads } = MEANINGS[meaning]
  if (column.filled === 0) return true
  if (meaning === 'builtOn' && share(column, (text) => /^(?:19|20)\d\d$/.test(text)) > SOME) return true
  if (reads === 'date') return dateShare(column) > SOME
  if (reads === 'number' || reads === 'distance') return numberShare(column) > SOME
  if (meaning === 'codes')
    return share(column, (text) => holdsCodes(text) || isNoCodes(text.toLowerCase())) > SOME
  if (meaning === 'work' || meaning === 'signs') return column.texts > column.numbers
  return true
}

/** What stands in a column, where its header says nothing. */
function byContents(column: ColumnProfile): Meaning | null {
  if (share(column, isVin) > MOST) return 'vin'
  if (share(column, holdsCodes) > MOST) return 'codes'
  if (dateShare(column) > MOST) return 'date'
  if (share(column, (text) => DISTANCE.test(text)) > MOST) return 'odometer'
  return share(column, tellsOfWork) > MOST ? 'work' : null
}

/** What a column seems to be; `note` where nothing says. */
export function guessMeaning(column: ColumnProfile, families: readonly Family[]): Meaning {
  const said = meaningOfHeader(column.header)
  const isOfAnotherDay = OF_ANOTHER_DAY.test(plainHeader(column.header))
  const found = isOfAnotherDay
    ? null
    : (byContents(column) ?? (namesEngines(column, families) ? 'engine' : null))
  if (column.filled === 0) return 'leftOut'
  if (found === 'vin') return found
  // A column called "faults", "remarks" or "result" that holds codes is one of codes.
  if (found === 'codes' && said !== 'work') return found
  if (said !== null && canBe(said, column)) return said
  return found ?? 'note'
}

/** Order of dates, mark of decimals and unit, as far as the column itself decides them. */
export function guessReading(
  meaning: Meaning,
  column: ColumnProfile,
  distance: 'km' | 'mi',
): Omit<ColumnMapping, 'meaning'> {
  const { reads } = MEANINGS[meaning]
  return {
    order: reads === 'date' ? orderOf(column) : null,
    decimal: reads === 'number' || reads === 'distance' ? decimalOf(column, reads === 'distance') : null,
    distance: reads === 'distance' ? distanceOf(column, distance) : distance,
  }
}

function orderOf({ shapes }: ColumnProfile): ColumnMapping['order'] {
  if (shapes.dayFirst > 0) return shapes.monthFirst > 0 ? null : 'day-first'
  if (shapes.monthFirst > 0) return 'month-first'
  return shapes.iso > 0 && shapes.eitherOrder === 0 ? 'iso' : null
}

/** Nobody writes an odometer with three decimals: there a lone mark parts thousands. */
function decimalOf(column: ColumnProfile, isDistance: boolean): ColumnMapping['decimal'] {
  const { commaDecimal, pointDecimal, eitherDecimal } = column.shapes
  if (commaDecimal > 0) return pointDecimal > 0 ? null : 'comma'
  if (pointDecimal > 0) return 'point'
  if (eitherDecimal === 0 || !isDistance) return null
  return share(column, (text) => text.includes('.')) >= share(column, (text) => text.includes(','))
    ? 'comma'
    : 'point'
}

function distanceOf(column: ColumnProfile, usual: 'km' | 'mi'): 'km' | 'mi' {
  const header = plainHeader(column.header)
  if (/\b(?:km|kms|kilom\w*|km ?stand)\b/.test(header)) return 'km'
  if (/\b(?:mi|miles|mls)\b/.test(header)) return 'mi'
  const inKm = share(column, (text) => /km|kilom/i.test(text))
  const inMiles = share(column, (text) => /\d ?(?:mi|mls|miles?)\b/i.test(text))
  return inKm === inMiles ? usual : inKm > inMiles ? 'km' : 'mi'
}
