import type { AdviceGround } from '@/lib/decisions/advice'
import { type AnsweredSign, type FaultFinding, findFault, signsAnswered } from '@/lib/decisions/fault-finding'
import type { FaultStep, FaultStop } from '@/lib/decisions/fault-question'
import type { Sign } from '@/lib/records/library'
import { type Place, placeOf } from '@/lib/records/place-of'
import { readScoringGround } from '@/lib/store/read/scoring-ground'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import type { Day } from '@/lib/units/dates'
import { scorerOn } from './inner/scorer-on'

/** A part by its name and its place. */
export type FaultPart = { weakPoint: string; name: string; place: Place; position: number }
/** A sign by its name; `position` null where it has one place, or where nobody said which. */
export type FaultSign = { sign: string; label: string; place: Place; position: number | null }

/** What is next to be done: a look, or a part replaced on trial. */
export type FaultMove = {
  do:
    | { kind: 'look'; sign: FaultSign; by: Sign['kind']; how: string | null }
    | { kind: 'renew'; part: FaultPart; cautions: string[] }
  cost: number
  /** Given that all before it brought nothing: P(it ends the search), of a look P(it is seen). */
  chance: number
  /** Given the same: what finding the fault costs from here on, on the mean. */
  expectedCostFromHere: number
}

/** The search for the fault of one vehicle, with names. */
export type FaultSearched = {
  seen: FaultSign[]
  /** The likeliest first; `developing` is the chance that it is going, whatever else is. */
  causes: (FaultPart & { chance: number; developing: number })[]
  moves: FaultMove[]
  expectedCost: number
  stop: FaultStop | null
  /** The likeliest replaced, then the next. */
  obvious: { moves: FaultMove[]; expectedCost: number }
  saving: number
}

export type VehicleFault = {
  asOf: Day
  /** Null where nothing was seen lately that a known weak point could cause, or a part that could was replaced since. */
  search: FaultSearched | null
  /** Signs of which a part was replaced since, and whether that has helped. */
  answered: FaultAnswered[]
}

/** A sign that a replacement since may have answered. */
export type FaultAnswered = Pick<AnsweredSign, 'seenOn' | 'drivenKm' | 'helped'> & {
  sign: FaultSign
  parts: (FaultPart & { on: Day })[]
}

/**
 * In which order to look for the fault behind what was seen on a vehicle lately.
 *
 * @param spendingLimit what may be spent, from here on, before somebody is asked; null: no limit
 * @param now the present instant
 * @returns null where the vehicle is not assessed
 */
export async function vehicleFault(
  scope: OrganisationScope,
  { unit, spendingLimit }: { unit: string; spendingLimit: number | null },
  now: Date,
): Promise<VehicleFault | null> {
  const scoring = await readScoringGround(scope, now)
  const ground = scoring && (await (await scorerOn(scope, scoring)).groundOf(scope, unit))
  if (!ground) return null
  return faultOn(ground, spendingLimit)
}

/** The search on what is known of a vehicle, with names. */
export function faultOn(ground: AdviceGround, spendingLimit: number | null): VehicleFault {
  const finding = findFault(ground, spendingLimit ?? undefined)
  const { signOf, partOf } = namesOn(ground)
  return {
    asOf: ground.clock.asOf,
    search: finding && named(finding, ground),
    answered: signsAnswered(ground).map(({ sign, position, renewed, seenOn, drivenKm, helped }) => ({
      ...{ seenOn, drivenKm, helped },
      sign: signOf(sign, position),
      parts: renewed.map((part) => ({ ...partOf(part.weakPoint, part.position), on: part.on })),
    })),
  }
}

function namesOn({ vehicle: { belief } }: AdviceGround) {
  const { family } = belief.plan
  return {
    partOf: (weakPoint: string, position: number): FaultPart => {
      const point = family.weakPoints.find(({ key }) => key === weakPoint)
      const place = point ? placeOf(point.positions, family.cylinders) : null
      return { weakPoint, name: point?.component ?? weakPoint, place, position }
    },
    signOf: (key: string, position: number | null): FaultSign => {
      const sign = family.signs.find((each) => each.key === key)
      const place = sign ? placeOf(sign.positions, family.cylinders) : null
      return { sign: key, label: sign?.label ?? key, place, position }
    },
  }
}

function named(finding: FaultFinding, ground: AdviceGround): FaultSearched {
  const { family } = ground.vehicle.belief.plan
  const { partOf, signOf } = namesOn(ground)
  const doOf = (step: FaultStep): FaultMove['do'] => {
    if ('renew' in step) {
      const { weakPoint, position } = step.renew
      const cautions = family.weakPoints.find(({ key }) => key === weakPoint)?.cautions ?? []
      return { kind: 'renew', part: partOf(weakPoint, position), cautions }
    }
    const [key = '', position] = step.look.split('@')
    const sign = family.signs.find((each) => each.key === key)
    const at = position === undefined ? null : Number(position)
    return { kind: 'look', sign: signOf(key, at), by: sign?.kind ?? 'visual', how: sign?.how ?? null }
  }
  const moveOf = (step: FaultStep): FaultMove => {
    const { cost, chanceResolved: chance, expectedCostFromHere } = step
    return { do: doOf(step), cost, chance, expectedCostFromHere }
  }
  const { causes, developing, steps, obvious, expectedCost, stop, saving } = finding
  return {
    seen: finding.seen.map(({ sign, position }) => signOf(sign, position)),
    causes: causes.map(({ weakPoint, position, chance }, i) => ({
      ...partOf(weakPoint, position),
      ...{ chance, developing: developing[i]! },
    })),
    moves: steps.map(moveOf),
    obvious: { moves: obvious.steps.map(moveOf), expectedCost: obvious.expectedCost },
    ...{ expectedCost, stop, saving },
  }
}
