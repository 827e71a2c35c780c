import type { VehicleScore } from '@/lib/decisions/score-fleet'
import { HISTORY_HORIZON_DAYS } from '@/lib/store/horizons'
import { type Chance, readChances } from '@/lib/store/read/chances'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import { readStaleVehicles } from '@/lib/store/read/stale-vehicles'
import { readStaleUsage } from '@/lib/store/read/usage-facts'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import type { VehicleChange } from '../vehicle-change'
import { freshenUsage } from './score-stale'
import { scorerOn } from './scorer-on'

/** A fleet up to this size can wait for the rates of its classes, where nobody has reckoned them yet. */
const USAGE_AT_ONCE = 500

/**
 * Scores vehicles whose records were changed.
 *
 * @param now the present instant
 * @returns what became of their scores; none before the first library; null where nobody has found out yet how one of
 *   their classes is used, and none was scored
 */
export async function rescoreTouched(
  scope: OrganisationScope,
  units: string[],
  now: Date,
): Promise<VehicleChange[] | null> {
  const ground = await readScoringGround(scope, now)
  if (!ground) return []
  const stale = await readStaleVehicles(scope, ground, { units, limit: units.length })
  if (stale.some(({ classRate }) => classRate === null)) return null
  const before = await readChances(scope, units)
  const scorer = await scorerOn(scope, ground)
  const scored = await scorer.score(scope, stale, now)
  // One that was not stale has the scores that it had.
  const kept = before.filter(({ unit }) => !stale.some((one) => one.unit === unit))
  return changesBetween(units, before, [...kept, ...scored.flatMap(chancesOf)])
}

/** Finds out how the classes of vehicles are used where nobody has, unless the fleet is too large to wait for it. */
export async function freshenOwnUsage(scope: OrganisationScope, units: string[], now: Date): Promise<void> {
  const ground = await readScoringGround(scope, now)
  if (!ground) return
  const stale = await readStaleVehicles(scope, ground, { units, limit: units.length })
  if (stale.every(({ classRate }) => classRate !== null)) return
  await freshenUsage(scope, ground, await readStaleUsage(scope, ground.asOf, USAGE_AT_ONCE))
}

/** The chances that a history is kept of, as a score that was just made says them. */
const chancesOf = ({ unit, advice, components }: VehicleScore): Chance[] =>
  components.flatMap((component) =>
    component.horizonDays === HISTORY_HORIZON_DAYS ? [{ ...component, unit, vehicleAdvice: advice }] : [],
  )

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
