import type { Advice } from '@/lib/decisions/advice'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { type Chance, readChances } from '@/lib/store/read/chances'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import { readStaleVehicles } from '@/lib/store/read/stale-vehicles'
import { readStaleUsage } from '@/lib/store/read/usage-facts'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { freshenUsage } from './inner/score-stale'
import { scorerOn } from './inner/scorer-on'

/** What a change of records did to a component: its chance at 90 days and its advice; null where it has no score. */
export type ComponentChange = {
  weakPoint: string
  position: number
  pFail: { before: number | null; after: number | null }
  advice: { before: Advice | null; after: Advice | null }
}

/** What it did to a vehicle. */
export type VehicleChange = {
  unit: string
  advice: { before: Advice | null; after: Advice | null }
  components: ComponentChange[]
}

/** More vehicles than this are left to whoever brings scores up to date in the background. */
const SCORED_AT_ONCE = 20
/** A fleet up to this size can wait for the rates of its classes, where nobody has reckoned them yet. */
const USAGE_AT_ONCE = 500

/**
 * Changes records in one transaction, and where few vehicles are touched scores them right after it.
 *
 * @param act what is done; it answers the vehicles that it touched
 * @param now the present instant
 * @returns what the act answered, and what became of the scores; no vehicle where too many were touched
 */
export async function changeRecords<Result extends { touched: string[] } | { ok: false }>(
  database: Database,
  organisation: OrganisationId,
  act: (scope: OrganisationScope) => Promise<Result>,
  now: Date,
): Promise<{ result: Result; vehicles: VehicleChange[] }> {
  const result = await withOrganisation(database, organisation, act, 'write')
  const touched = 'touched' in result ? result.touched : []
  if (touched.length === 0 || touched.length > SCORED_AT_ONCE) return { result, vehicles: [] }
  const rescore = (scope: OrganisationScope) => rescoreTouched(scope, touched, now)
  return { result, vehicles: await withOrganisation(database, organisation, rescore, 'write') }
}

async function rescoreTouched(
  scope: OrganisationScope,
  units: string[],
  now: Date,
): Promise<VehicleChange[]> {
  const ground = await readScoringGround(scope, now)
  if (!ground) return []
  const readStale = () => readStaleVehicles(scope, ground, { units, limit: units.length })
  let stale = await readStale()
  if (stale.some(({ classRate }) => classRate === null)) {
    const usage = await readStaleUsage(scope, ground.asOf, USAGE_AT_ONCE)
    await freshenUsage(scope, ground, usage)
    stale = (await readStale()).filter(({ classRate }) => classRate !== null)
  }
  const before = await readChances(scope, units)
  const scorer = await scorerOn(scope, ground)
  await scorer.score(scope, stale, now)
  return changesBetween(units, before, await readChances(scope, units))
}

function changesBetween(units: string[], before: Chance[], after: Chance[]): VehicleChange[] {
  return units.map((unit) => {
    const was = before.filter((chance) => chance.unit === unit)
    const is = after.filter((chance) => chance.unit === unit)
    const components = new Map([...was, ...is].map((chance) => [keyOf(chance), chance]))
    const pair = <Field extends 'pFail' | 'advice'>(field: Field, key: string) => {
      const valueIn = (chances: Chance[]) => chances.find((chance) => keyOf(chance) === key)?.[field] ?? null
      return { before: valueIn(was), after: valueIn(is) }
    }
    return {
      unit,
      advice: { before: was[0]?.vehicleAdvice ?? null, after: is[0]?.vehicleAdvice ?? null },
      components: Array.from(components, ([key, { weakPoint, position }]) => ({
        ...{ weakPoint, position },
        ...{ pFail: pair('pFail', key), advice: pair('advice', key) },
      })),
    }
  })
}

const keyOf = ({ weakPoint, position }: Chance) => `${weakPoint} ${position}`
