import type { AdviceGround } from '@/lib/decisions/advice'
import { type Bid, type BidLook, bidFor } from '@/lib/decisions/bid'
import type { Cover } from '@/lib/decisions/set-aside'
import { scratchRecords } from '@/lib/intake/scratch-vehicle'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import { readClassRateOf } from '@/lib/store/read/class-rate-of'
import { readCoverTerms } from '@/lib/store/read/cover-terms'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readRecords } from '@/lib/store/read/records'
import { readScoringBasis } from '@/lib/store/read/scoring-basis'
import { readScoringGround, type ScoringGround } from '@/lib/store/read/scoring-ground'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import type { Day } from '@/lib/units/dates'
import { coverGiven, USUAL_COVER } from './inner/cover-given'
import { LastAsked } from './inner/last-asked'
import { scorerOn } from './inner/scorer-on'
import { USUAL_SHARE } from './inner/stock-amount'

/** Which vehicle: one on record, or one that is only asked about. */
export type BidVehicle =
  | { unit: string }
  | { family: string; odometerKm: number; looked: ReadonlyMap<string, 'seen' | 'not seen'> }

export type BidAsked = {
  vehicle: BidVehicle
  retail: number
  prep: number
  margin: number
  price: number | null
  /** Null: what the vehicle's terms say, or the usual one. */
  cover: Cover | null
}

export type VehicleBid = Omit<Bid, 'looks'> & {
  asOf: Day
  cover: Cover
  share: number
  /** Of the average, what is due to parts of which nobody knows how old they are. */
  shareUnknown: number | null
  looks: (Omit<BidLook, 'ifSeen'> & { ifSeen: { label: string; chance: number; bid: number } | null })[]
  /** Every weak point without a price: nothing is set aside for it. */
  unpriced: string[]
}

const MOST_KEPT = 64
const kept = new LastAsked<VehicleBid>(MOST_KEPT)

/**
 * The most to bid for a vehicle, and what each look at it would be worth before. Nothing is written.
 *
 * @param now the present instant
 * @returns null where the vehicle or its engine is not known, or it is not assessed
 */
export async function vehicleBid(
  scope: OrganisationScope,
  asked: BidAsked,
  now: Date,
): Promise<VehicleBid | null> {
  const scoring = await readScoringGround(scope, now)
  if (!scoring) return null
  const key = await keyOf(scope, scoring, asked)
  const known = kept.get(key)
  if (known) return known
  const found = await groundOf(scope, scoring, asked.vehicle)
  return found && kept.keep(key, told(found, asked))
}

async function keyOf(scope: OrganisationScope, scoring: ScoringGround, { vehicle, ...terms }: BidAsked) {
  const on =
    'unit' in vehicle
      ? [
          vehicle.unit,
          await readScoringBasis(scope, vehicle.unit, scoring),
          (await readCoverTerms(scope, vehicle.unit))?.id,
        ]
      : [
          scoring.text,
          vehicle.family,
          vehicle.odometerKm,
          [...vehicle.looked],
          await readClassRateOf(scope, { duty: SCRATCH_DUTY, family: vehicle.family }),
        ]
  return JSON.stringify([scope.organisation, on, terms])
}

const SCRATCH_DUTY = 'mixed'

type Found = { ground: AdviceGround; given: ReturnType<typeof coverGiven> }

async function groundOf(
  scope: OrganisationScope,
  scoring: ScoringGround,
  vehicle: BidVehicle,
): Promise<Found | null> {
  const scorer = await scorerOn(scope, scoring)
  if ('unit' in vehicle) {
    const ground = await scorer.groundOf(scope, vehicle.unit)
    const [records] = groupByVehicle(await readRecords(scope, [vehicle.unit]))
    if (!ground || !records) return null
    return { ground, given: coverGiven(records.vehicle, ground, await readCoverTerms(scope, vehicle.unit)) }
  }
  const library = (await readKnownLibrary(scope))?.library
  const family = library?.families.find(({ key }) => key === vehicle.family)
  if (!family) return null
  const records = scratchRecords({ ...vehicle, family }, scoring.asOf)
  const rate = await readClassRateOf(scope, { duty: SCRATCH_DUTY, family: family.key })
  const ground = scorer.groundFrom(scope, records, rate)
  return ground && { ground, given: { cover: USUAL_COVER, coverOf: 'usual' } }
}

function told({ ground, given }: Found, asked: BidAsked): VehicleBid {
  const { retail, prep, margin, price } = asked
  const share = ground.settings.setAsideShare ?? USUAL_SHARE
  const cover = asked.cover ?? given.cover
  const { looks, ...bid } = bidFor(ground, {
    ...{ retail, prep, margin, price, share },
    cover: { ...given, cover },
  })
  const { signs, components } = ground.vehicle.belief.plan
  const unpriced = components.filter(({ weakPoint: { cost } }) => cost.parts === 0 && cost.hours === 0)
  return {
    ...bid,
    ...{ asOf: ground.clock.asOf, cover, share },
    shareUnknown: bid.mean > 0 ? bid.meanOfUnknown / bid.mean : null,
    looks: looks.map(({ ifSeen, ...look }) => ({
      ...look,
      ifSeen: ifSeen && { label: signs[ifSeen.sign]!.label, chance: ifSeen.chance, bid: ifSeen.bid },
    })),
    unpriced: [...new Set(unpriced.map(({ weakPoint }) => weakPoint.component))],
  }
}
