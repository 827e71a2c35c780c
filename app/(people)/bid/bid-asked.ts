import type { BidAsked } from '@/lib/jobs/bid'
import { readTypedDistance } from '@/lib/records/typed-distance'
import { readTypedNumber } from '@/lib/records/typed-number'
import type { AskedAbout } from '../new-vehicle/noticed'
import { coverAsked } from '../vehicles/[unit]/set-aside/cover-asked'

type Typed = Record<string, string | string[] | undefined>

/** What an address asks of the bid: each as it was typed, and what of it could be read. */
export type AskedBid = {
  unit: string
  family: string
  /** As typed, for the form. */
  typed: (field: string) => string
  /** Signs by key. */
  looked: Map<string, 'seen' | 'not seen'>
  odometerKm: number | null
  retail: number | null
  prep: number | null
  margin: number | null
  price: number | null
  cover: BidAsked['cover']
  /** What cannot be read, or is missing for an answer, in sentences. */
  unread: string[]
  missing: string[]
}

const MOST_MONEY = 1_000_000_000

/**
 * Reads what is asked: everything stands in the address, and nothing is kept.
 *
 * @param distance the unit in which distances are typed
 */
export function bidAsked(parameters: Typed, distance: 'km' | 'mi'): AskedBid {
  const typed = (field: string) => ([parameters[field] ?? ''].flat()[0] ?? '').trim()
  const unread: string[] = []
  const money = (field: string, what: string) => {
    if (typed(field) === '') return null
    const read = readTypedNumber(typed(field))
    if (read !== null && read >= 0 && read <= MOST_MONEY) return read
    unread.push(`${what}: “${typed(field)}” is not an amount of nothing or more.`)
    return null
  }
  const retail = money('retail', 'What it will sell for')
  const prep = money('prep', 'Making it ready')
  const margin = money('margin', 'The margin')
  const price = money('price', 'What is asked for it')
  const odometer = typed('odometer') === '' ? null : readTypedDistance(typed('odometer'), distance)
  if (typed('odometer') !== '' && odometer === null)
    unread.push(`The odometer: “${typed('odometer')}” is no distance; write all of its digits.`)
  const { cover, unread: ofCover } = coverAsked(parameters, distance)
  const [unit, family] = [typed('unit'), typed('family')]
  return {
    ...{ unit, family, typed, looked: lookedFor(parameters) },
    ...{ odometerKm: odometer?.km ?? null, retail, prep, margin, price, cover },
    unread: [...unread, ...ofCover],
    missing: missingOf({ unit, family, hasOdometer: odometer !== null, hasRetail: retail !== null }),
  }
}

function lookedFor(parameters: Typed): AskedBid['looked'] {
  const answers = Object.entries(parameters).flatMap(([name, value]) => {
    const answer = [value ?? ''].flat()[0]
    const isAnswer = name.startsWith('sign-') && (answer === 'seen' || answer === 'not seen')
    return isAnswer ? [[name.slice('sign-'.length), answer] as const] : []
  })
  return new Map(answers)
}

type Has = { unit: string; family: string; hasOdometer: boolean; hasRetail: boolean }

function missingOf({ unit, family, hasOdometer, hasRetail }: Has): string[] {
  return [
    ...(unit === '' && family === '' ? ['which vehicle, or which engine'] : []),
    ...(unit === '' && family !== '' && !hasOdometer ? ['what its odometer says'] : []),
    ...(hasRetail ? [] : ['what it will sell for']),
  ]
}

/** What is to be reckoned; null where something is missing for it. */
export function asBid(asked: AskedBid): BidAsked | null {
  const { unit, family, odometerKm, looked, retail, prep, margin, price, cover } = asked
  if (asked.missing.length > 0 || retail === null) return null
  const vehicle = unit !== '' ? { unit } : { family, odometerKm: odometerKm ?? 0, looked }
  return { vehicle, retail, prep: prep ?? 0, margin: margin ?? 0, price, cover }
}

/** The vehicle that is asked about, as far as it is kept where it is bought. */
export function askedAbout({ unit, family, typed, looked }: AskedBid): AskedAbout {
  const signs = (answer: 'seen' | 'not seen') =>
    [...looked].flatMap(([sign, each]) => (each === answer ? [sign] : []))
  return {
    ...{ unit, family, odometer: typed('odometer'), codes: '' },
    ...{ seen: signs('seen'), notSeen: signs('not seen') },
  }
}
