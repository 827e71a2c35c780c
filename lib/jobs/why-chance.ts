/** Why a component's chance is what it is, scored anew from the vehicle's records as of today. */
import { setImmediate as nextTurn } from 'node:timers/promises'
import {
  type Ages,
  agesOf,
  chanceSteps,
  effectsOn,
  latelyRecorded,
  type WhyComponent,
  type WithoutRecord,
  withoutEachRecord,
} from '@/lib/decisions/why-chance'
import { type LifeCounts, wasLearned } from '@/lib/scoring/family-fit'
import type { FleetVehicle } from '@/lib/scoring/fleet-vehicles'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readScoringBasis } from '@/lib/store/read/scoring-basis'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { LastAsked } from './inner/last-asked'
import { type Scorer, trying } from './inner/score-stale'
import { scorerOn } from './inner/scorer-on'

/** A vehicle with those who score it: all that explaining it needs, so that the database need not wait for it. */
export type Explained = {
  organisation: OrganisationId
  vehicle: FleetVehicle
  scorer: Scorer
  /** What its scores rest on: other text, other scores. */
  basis: string
}

/** The steps to one component's chance, with what they rest on. */
export type WhyChance = Pick<WhyComponent, 'steps' | 'seen'> & {
  /** The component's place in the order of the vehicle's scores. */
  index: number
  horizonDays: number
  ages: Ages
  /** The lives that the weak point was learned from; null where nothing was learned of it. */
  learned: LifeCounts | null
  /** How many records of the last two years there are to leave out. */
  records: number
}

/**
 * Reads a vehicle to explain its chances.
 *
 * @param now the present instant
 * @returns null for a vehicle that is not scored, or before the first library
 */
export async function readToExplain(
  scope: OrganisationScope,
  unit: string,
  now: Date,
): Promise<Explained | null> {
  const ground = await readScoringGround(scope, now)
  if (!ground) return null
  const scorer = await scorerOn(scope, ground)
  const basis = await readScoringBasis(scope, unit, ground)
  const vehicle = await scorer.readyVehicle(scope, unit)
  return vehicle && basis !== null ? { organisation: scope.organisation, vehicle, scorer, basis } : null
}

/** @returns null where there is no such component, or it cannot be scored */
export function whyChance(
  explained: Explained,
  { weakPoint, position, horizonDays }: { weakPoint: string; position: number; horizonDays: number },
): WhyChance | null {
  const { vehicle, scorer } = explained
  const { asOf } = scorer.ground
  const { family } = vehicle.records.vehicle
  const reckoned = trying(explained, () => chanceSteps(vehicle, { days: horizonDays }, scorer.scorers))
  if (!reckoned.ok) return null
  const index = reckoned.value.findIndex((each) => each.weakPoint === weakPoint && each.position === position)
  const own = reckoned.value[index]
  if (!own) return null
  const learned = scorer.fit?.families.get(family)?.weakPoints.get(weakPoint)
  return {
    steps: own.steps,
    seen: own.seen,
    index,
    horizonDays,
    ages: agesOf(vehicle, asOf),
    learned: learned && wasLearned(learned) ? learned.lives : null,
    records: latelyRecorded(vehicle.records, asOf).length,
  }
}

/** What each record of the last two years does to one component's chance: those that move it, the greatest first. */
export type RecordEffects = ReturnType<typeof effectsOn>

/** Of a vehicle with many records it takes seconds; a page is read anew after each thing that is done on it. */
const MOST_KEPT = 32
const leftOut = new LastAsked<Promise<WithoutRecord[] | null>>(MOST_KEPT)

/**
 * What each record does, found once as long as the vehicle's scores rest on the same.
 *
 * @param why of the component
 * @returns null where the vehicle cannot be scored without one of them
 */
export async function recordEffects(explained: Explained, why: WhyChance): Promise<RecordEffects | null> {
  const { organisation, vehicle, basis } = explained
  const { index, horizonDays, steps } = why
  const key = JSON.stringify([organisation, vehicle.records.vehicle.unit, horizonDays, basis])
  const without = await (leftOut.get(key) ?? leftOut.keep(key, leaveOutEach(explained, horizonDays)))
  return without && effectsOn(index, steps.at(-1)?.chance ?? 0, without)
}

/**
 * Leaves out one record after the other. It takes about as long as scoring the vehicle for each of them, and whoever
 * shares the process has its turn in between.
 */
async function leaveOutEach(explained: Explained, horizonDays: number): Promise<WithoutRecord[] | null> {
  const { vehicle, scorer } = explained
  const without: WithoutRecord[] = []
  const each = withoutEachRecord(vehicle, { days: horizonDays }, scorer.scorers.inForce)
  for (;;) {
    const next = trying(explained, () => each.next())
    if (!next.ok) return null
    if (next.value.done) return without
    without.push(next.value.value)
    await nextTurn()
  }
}
