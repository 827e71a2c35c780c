/** Decisions as `decisions.json` has them; its names are a contract with other people's scripts. */
import type { Bundle } from '@/lib/decisions/bundle'
import type { VehicleDecision } from '@/lib/decisions/decide-fleet'
import type { FaultFinding } from '@/lib/decisions/fault-finding'
import type { FleetMoney } from '@/lib/decisions/fleet-money'
import type { PartDemand } from '@/lib/decisions/parts-demand'
import type { Plan } from '@/lib/decisions/plan-visits'

export interface Decisions {
  decisions: readonly VehicleDecision[]
  plan: Plan
  parts: readonly PartDemand[]
  money: FleetMoney
}

export function decisionsObject({ decisions, plan, parts, money }: Decisions) {
  return {
    vehicles: decisions.map(vehicleObject),
    jobs: decisions.flatMap(({ jobs }) => jobs),
    // A bound that is not known yet has no number in JSON.
    plan: { visits: plan.visits, gain: plan.gain, bound: Number.isFinite(plan.bound) ? plan.bound : null },
    parts: parts.map(({ part, mean, p90, p95 }) => ({ part, mean, p90, p95 })),
    // Bands hold four cases in five; money is null where a job has no price.
    quarter: money.quarter,
    policies: money.policies,
    policyYears: money.years,
  }
}

function vehicleObject({ unit, assessed, bundle, setAside, grade, looks }: VehicleDecision) {
  return {
    unit,
    assessed,
    bundle: bundle ? jobsByPoint(bundle) : [],
    saving: bundle?.saving ?? 0,
    savingLow: bundle?.savingBand.low ?? 0,
    savingHigh: bundle?.savingBand.high ?? 0,
    hours: bundle?.hours ?? 0,
    reserve: setAside,
    grade,
    looks,
  }
}

/** The jobs of a bundle, the positions of one weak point together. */
function jobsByPoint({ members }: Bundle) {
  const positions = new Map<string, number[]>()
  for (const { weakPoint, position } of members)
    positions.set(
      weakPoint,
      [...(positions.get(weakPoint) ?? []), position].sort((a, b) => a - b),
    )
  return [...positions].map(([weakPoint, each]) => ({ weakPoint, positions: each }))
}

/** A fault-finding order as `order.json` has it; without causes and steps where nothing was seen. */
export function orderObject(unit: string, found: FaultFinding | null) {
  if (!found)
    return { unit, seen: [], causes: [], steps: [], expectedCost: 0, obvious: { steps: [], expectedCost: 0 } }
  const { causes, developing, ...order } = found
  return { unit, ...order, causes: causes.map((cause, i) => ({ ...cause, developing: developing[i]! })) }
}
