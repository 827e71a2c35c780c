/**
 * When a part begins to go, as the starter's form asks it: a range in words, or of 100 how many by which distance. What
 * cannot be is told in plain words, with what to do.
 */
import {
  begunBy,
  type CountByAge,
  endsOfRange,
  ninetiethOf,
  type OnsetFromCounts,
  onsetFromCounts,
  SPREAD,
} from '@/lib/model/onset-from-counts'
import { readTypedNumber } from '@/lib/records/typed-number'
import type { FromForm, Typed } from './family-forms'
import { kmFromThousands, kmRangeFrom, upToThousand } from './thousands'
import type { TypedError } from './typed-error'

/** The places of the form for counts; two are needed, the others may stay empty. */
export const COUNT_PLACES = [1, 2, 3] as const
export const RANGE_FIELD = 'range'
/** The fields of one answer: by which distance, and how many of 100. */
export const byField = (place: number) => `by${place}`
export const ofField = (place: number) => `of${place}`

/** Whoever says "between a and b" is taken to leave out the first and the last in ten. */
const RANGE_COUNTS = { from: 10, to: 90 }

/** The onset in whole km, with what it was made of; `missesBy`: of 100, where the answers lie on no one curve. */
export type TypedOnset = {
  onset: { p10: number; p50: number }
  answers: CountByAge[]
  missesBy: number
}

export type { CountByAge }

/** What a distance is said back in. */
export type SayKm = (km: number) => string

/** The onset that a form states. @param unit what a number without a unit is in */
export function onsetTyped(typed: Typed, unit: 'km' | 'mi', say: SayKm): FromForm<TypedOnset> {
  const range = (typed[RANGE_FIELD] ?? '').trim()
  const places = COUNT_PLACES.filter((place) =>
    [byField(place), ofField(place)].some((name) => typed[name]?.trim()),
  )
  if (range !== '' && places.length > 0)
    return refusal(RANGE_FIELD, 'It is said twice: empty either the range or the counts.')
  if (range === '' && places.length === 0)
    return refusal(
      RANGE_FIELD,
      'Say between which distances it begins, like 80 to 120; or fill in the counts.',
    )
  return range === '' ? fromCounts(typed, places, unit, say) : fromRange(range, unit, say)
}

function fromRange(text: string, unit: 'km' | 'mi', say: SayKm): FromForm<TypedOnset> {
  const range = kmRangeFrom(text, unit)
  if (range === null) return refusal(RANGE_FIELD, 'Type two distances, like 80 to 120.')
  const { from, to } = range
  if (to <= from)
    return refusal(RANGE_FIELD, `This was read as ${say(from)} to ${say(to)}: type the lesser first.`)
  const { least, largest } = endsOfRange(from)
  const answers = [
    { age: from, ofHundred: RANGE_COUNTS.from },
    { age: to, ofHundred: RANGE_COUNTS.to },
  ]
  return fitted(answers, RANGE_FIELD, say, {
    'too-narrow': `From ${say(from)} to ${say(to)} they would go almost all at once, which parts do not. Type a range that ends at ${say(upToThousand(least, unit))} or later.`,
    'too-wide': `From ${say(from)} to ${say(to)} is wider than can be reckoned with. Type a range that ends before ${say(largest)}, or begins later.`,
  })
}

function fromCounts(
  typed: Typed,
  places: readonly number[],
  unit: 'km' | 'mi',
  say: SayKm,
): FromForm<TypedOnset> {
  const errors: TypedError[] = []
  const answers = places.map((place): CountByAge => {
    const [age, ofHundred] = [
      kmFromThousands(typed[byField(place)] ?? '', unit),
      countFrom(typed[ofField(place)] ?? ''),
    ]
    if (age === null)
      errors.push({ field: byField(place), message: `Type the distance of answer ${place}, like 80.` })
    if (ofHundred === null)
      errors.push({
        field: ofField(place),
        message: `Type of 100 how many in answer ${place}, from 0 to 100.`,
      })
    return { age: age ?? 0, ofHundred: ofHundred ?? 0 }
  })
  if (errors.length > 0) return { ok: false, errors }
  const last = ofField(places.at(-1) ?? 1)
  return fitted(answers, last, say, {
    'too-narrow': `By these counts half would begin less than ${SPREAD.least} times as late as the first in ten, almost all at once, which parts do not. Put the distances further apart, or the counts closer together.`,
    'too-wide': `By these counts half would begin more than ${SPREAD.largest} times as late as the first in ten. Put the counts further apart, or the distances closer together.`,
  })
}

type Misfits = Record<'too-narrow' | 'too-wide', string>

function fitted(answers: CountByAge[], field: string, say: SayKm, misfits: Misfits): FromForm<TypedOnset> {
  const found = onsetFromCounts(answers)
  if (!found.ok) return refusal(field, reasonWords(found, say, misfits))
  const onset = { p10: Math.round(found.p10), p50: Math.round(found.p50) }
  const spread = onset.p50 / onset.p10
  if (!(spread >= SPREAD.least && spread <= SPREAD.largest))
    return refusal(field, misfits[spread < SPREAD.least ? 'too-narrow' : 'too-wide'])
  return { ok: true, value: { onset, answers, missesBy: found.missesBy } }
}

function reasonWords(found: Exclude<OnsetFromCounts, { ok: true }>, say: SayKm, misfits: Misfits): string {
  if (found.reason === 'too-few') return 'Fill in a second distance, with how many of 100 have begun by then.'
  if (found.reason === 'flat')
    return 'As many have begun by each of these distances. Type one by which more, or fewer, have begun.'
  if (found.reason !== 'contradiction') return misfits[found.reason]
  const { earlier, later } = found
  if (earlier.age === later.age)
    return `By ${say(later.age)} there are two answers, ${earlier.ofHundred} and ${later.ofHundred} of 100: leave one.`
  return (
    `By ${say(later.age)} fewer have begun (${later.ofHundred} of 100) than by ${say(earlier.age)} already ` +
    `(${earlier.ofHundred} of 100). What has begun stays begun: count all of them up to each distance.`
  )
}

/** "10", "10 %", "10 of 100". */
function countFrom(text: string): number | null {
  const [, number = ''] = /^(.*?\d)\s*(?:%|per ?cent|(?:of|in|\/)\s*100)?$/i.exec(text.trim()) ?? []
  const value = readTypedNumber(number)
  return value !== null && value <= 100 ? value : null
}

const refusal = <T>(field: string, message: string): FromForm<T> => ({
  ok: false,
  errors: [{ field, message }],
})

/** By when 10, 50 and 90 of 100 have begun. */
export function tellingAges(onset: { p10: number; p50: number }): CountByAge[] {
  return [
    { ofHundred: 10, age: onset.p10 },
    { ofHundred: 50, age: onset.p50 },
    { ofHundred: 90, age: ninetiethOf(onset) },
  ]
}

const CURVE_STEPS = 48
/** The curve ends where hardly any are left. */
const CURVE_REACH = 1.25

/** The curve of the onset from new on, in even steps; ages in the statement's unit. */
export function onsetCurve(onset: { p10: number; p50: number }): CountByAge[] {
  const end = CURVE_REACH * ninetiethOf(onset)
  return Array.from({ length: CURVE_STEPS + 1 }, (_, i) => {
    const age = (end * i) / CURVE_STEPS
    return { age, ofHundred: 100 * begunBy(onset, age) }
  })
}
