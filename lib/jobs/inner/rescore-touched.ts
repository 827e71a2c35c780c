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
 * @returns what became of their scores; none before the first library
 */
export async function rescoreTouched(
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
