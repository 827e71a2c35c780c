import { type CarriedPart, type EarlyFailures, earlyFailures } from '@/lib/decisions/early-failures'
import { logFailedWork } from '@/lib/log/log-failed-work.mjs'
import { parsedLibrary } from '@/lib/records/parsed-library'
import type { RepairRow } from '@/lib/records/rows'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import { odometerOf } from '@/lib/scoring/fleet-vehicles'
import { RenewedLives } from '@/lib/scoring/renewed-lives'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readClassRate } from '@/lib/store/read/class-rate'
import { readFitInForce } from '@/lib/store/read/fit-in-force'
import { readRecords } from '@/lib/store/read/records'
import { type RenewedUnit, readRenewedUnits } from '@/lib/store/read/renewed-units'
import { readScoringGround, type ScoringGround } from '@/lib/store/read/scoring-ground'
import { countStaleVehicles } from '@/lib/store/read/stale-vehicles'
import { withOrganisation } from '@/lib/store/with-organisation'
import { giveWay } from './inner/give-way'
import { trying } from './inner/score-stale'
import { knownFit } from './known-fit'

/** A part that was put in, with what people call it and the repairs at its beginning and end. */
export type EarlyPart = CarriedPart & {
  family: string
  weakPoint: string
  name: string
  position: number
  /** Whether `part` is the number that the library has for it; else it stands for the weak point. */
  hasNumber: boolean
  /** How far it went, in units of its clock. */
  age: number
  clock: 'distance' | 'hours' | 'time'
  repair: RepairRow
  endedBy: RepairRow | null
}

export type EarlyPartsNow = {
  /** As of the last time that all was reckoned; null before the first. */
  found: EarlyFailures<EarlyPart> | null
  /** How far it is where it is being reckoned anew. */
  working: { done: number; total: number } | null
  /** Whether scores are being made, for which it waits. */
  waiting: boolean
}

/** What this process knows of an organisation: lives by vehicle, with what they rest on. */
type Known = {
  lives: Map<string, { basis: string; parts: EarlyPart[] }>
  found: EarlyFailures<EarlyPart> | null
  rests: string
  working: EarlyPartsNow['working']
}

const known = new Map<OrganisationId, Known>()
/** Vehicles that are read together. */
const AT_ONCE = 10

/**
 * Whether parts of some supplier or batch fail early. To follow every vehicle takes seconds: what is not known yet is
 * reckoned beside the page, some vehicles at a time, and what was found last is told until then.
 *
 * @param now the present instant
 */
export async function earlyPartsNow(
  database: Database,
  organisation: OrganisationId,
  now: Date,
): Promise<EarlyPartsNow> {
  const { ground, units, stale } = await withOrganisation(database, organisation, async (scope) => {
    const ground = await readScoringGround(scope, now)
    if (!ground) return { ground, units: [], stale: 0 }
    return {
      ground,
      units: await readRenewedUnits(scope, ground),
      stale: await countStaleVehicles(scope, ground),
    }
  })
  const here = known.get(organisation) ?? { lives: new Map(), found: null, rests: '', working: null }
  known.set(organisation, here)
  const rests = JSON.stringify(units)
  // While many are being scored anew, what their lives rest on changes by the second, and that work comes first.
  if (stale > 0) return { found: here.found, working: here.working, waiting: true }
  if (ground && here.rests !== rests && here.working === null) {
    const reckoning = reckon(database, organisation, here, { ground, units, rests })
    if (units.every(({ unit, basis }) => here.lives.get(unit)?.basis === basis)) await reckoning
    else reckoning.catch((error: unknown) => logFailedWork('early-parts', error))
  }
  return { found: here.found, working: here.working, waiting: false }
}

type Reckoning = { ground: ScoringGround; units: RenewedUnit[]; rests: string }

async function reckon(
  database: Database,
  organisation: OrganisationId,
  here: Known,
  { ground, units, rests }: Reckoning,
): Promise<void> {
  const stale = units.filter(({ unit, basis }) => here.lives.get(unit)?.basis !== basis)
  here.working = { done: 0, total: stale.length }
  try {
    const follower = await followerOn(database, organisation, ground)
    for (let from = 0; from < stale.length; from += AT_ONCE) {
      const some = stale.slice(from, from + AT_ONCE)
      await follower(some, here)
      here.working = { done: from + some.length, total: stale.length }
    }
    const live = new Set(units.map(({ unit }) => unit))
    for (const unit of here.lives.keys()) if (!live.has(unit)) here.lives.delete(unit)
    here.found = earlyFailures([...here.lives.values()].flatMap(({ parts }) => parts))
    here.rests = rests
  } finally {
    here.working = null
  }
}

async function followerOn(database: Database, organisation: OrganisationId, ground: ScoringGround) {
  const parsed = parsedLibrary(ground.library.content)
  if (!parsed.ok) throw new Error(`The library in force is not valid: ${parsed.errors[0]?.message}`)
  const { library } = parsed
  const fit = await withOrganisation(database, organisation, readFitInForce)
  const families = new Map(library.families.map((family) => [family.key, family]))
  const lives = new RenewedLives(families, knownFit(fit, library), ground.asOf)
  return async (some: RenewedUnit[], here: Known): Promise<void> => {
    const { records, rates } = await withOrganisation(database, organisation, async (scope) => ({
      records: await readRecords(
        scope,
        some.map(({ unit }) => unit),
      ),
      rates: await Promise.all(
        some.map(async ({ unit }) => [unit, await readClassRate(scope, unit)] as const),
      ),
    }))
    const rateOf = new Map(rates)
    const bases = new Map(some.map(({ unit, basis }) => [unit, basis]))
    for (const one of groupByVehicle(records)) {
      const { unit } = one.vehicle
      const classRate = rateOf.get(unit)
      if (!classRate) continue // how its class is used has not been found out yet; then it is other than it was
      const vehicle = { records: one, odometer: odometerOf(one, ground.asOf), classRate }
      const found = trying({ organisation }, () => lives.of(vehicle).map(partOf))
      here.lives.set(unit, { basis: bases.get(unit) ?? '', parts: found.ok ? found.value : [] })
      await giveWay()
    }
  }
}

type Life = ReturnType<RenewedLives['of']>[number]

function partOf({ weakPoint, repair, ...life }: Life): EarlyPart {
  const { unit, family, position, end, age, endedBy, goneBy } = life
  return {
    ...{ unit, family, position, end, age, endedBy, goneBy, repair },
    weakPoint: weakPoint.key,
    name: weakPoint.component,
    clock: weakPoint.clock,
    hasNumber: weakPoint.part !== null,
    part: weakPoint.part ?? `${family} ${weakPoint.key}`,
    supplier: repair.supplier,
    batch: repair.batch,
  }
}
