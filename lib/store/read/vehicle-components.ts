import { ADVICE, type Advice } from '@/lib/decisions/advice'
import { parsedLibrary } from '@/lib/records/parsed-library'
import { nameComponent, type Place } from '../inner/component-names'
import type { OrganisationScope } from '../with-organisation'
import { readLibraryInForce } from './library-in-force'

/** A component of one vehicle: its latest score at one horizon. */
export type VehicleComponent = {
  weakPoint: string
  name: string
  place: Place
  position: number
  pFail: number
  pLow: number
  pHigh: number
  pDeveloping: number
  remainingKmP50: number | null
  costOfWaiting: number
  /** The 80 % band of it; told where waiting costs something. */
  waitingLow: number | null
  waitingHigh: number | null
  advice: Advice
  speaks: string
}

type Found = Omit<VehicleComponent, 'name' | 'place'> & { family: string }

/** Every component of a vehicle: the most urgent first, then the likeliest to fail. */
export async function readVehicleComponents(
  scope: OrganisationScope,
  unit: string,
  horizonDays: number,
): Promise<VehicleComponent[]> {
  const found = await scope.tx.$queryRaw<Found[]>`
    select vehicle.family, score.weak_point as "weakPoint", score.position, score.p_fail as "pFail",
      score.p_low as "pLow", score.p_high as "pHigh", score.p_developing as "pDeveloping",
      score.remaining_km_p50 as "remainingKmP50", score.cost_of_waiting as "costOfWaiting",
      score.waiting_low as "waitingLow", score.waiting_high as "waitingHigh", score.advice, score.speaks
    from component_scores score join vehicles vehicle on vehicle.id = score.vehicle_id
    where vehicle.unit = ${unit} and score.horizon_days = ${horizonDays}
    order by array_position(${ADVICE}::text[], score.advice), score.p_fail desc, score.weak_point, score.position`
  const stored = await readLibraryInForce(scope)
  const parsed = stored && parsedLibrary(stored.content)
  return found.map(({ family, ...component }) => ({
    ...component,
    ...(parsed?.ok
      ? nameComponent(component.weakPoint, family, parsed.library)
      : { name: component.weakPoint, place: null }),
  }))
}
