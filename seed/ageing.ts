import { engineHours } from './driving'
import type { FamilyEntry } from './library/shape'
import { type Component, isDeveloping } from './lives'
import type { Vehicle } from './vehicle'

type Wear = {
  component: Component
  clock: 'distance' | 'hours' | 'time'
  duty: number
  /** Neighbours whose defect runs down on this part, and how much faster it then ages. */
  above: { neighbour: Component; strength: number }[]
}

/** How one vehicle's parts age: the answer advances every part by a stretch of road and of time. */
export function makeAgeing(vehicle: Vehicle, family: FamilyEntry, components: readonly Component[]) {
  const wears: Wear[] = components.map((component) => ({
    component,
    clock: component.weakPoint.clock ?? 'distance',
    duty: component.weakPoint.duty?.[vehicle.duty] ?? 1,
    above: family.upstream
      .filter((link) => link.to === component.weakPoint.key)
      .flatMap(({ from, strength }) =>
        components.filter((c) => c.weakPoint.key === from).map((neighbour) => ({ neighbour, strength })),
      ),
  }))
  return (km: number, days: number): void => {
    const steps = { distance: km, hours: engineHours(vehicle, km), time: days }
    for (const { component, clock, duty, above } of wears) {
      let factor = duty
      for (const { neighbour, strength } of above) if (isDeveloping(neighbour)) factor *= strength
      component.life.age += steps[clock] * factor
      component.life.sinceRenewal += steps[clock]
    }
  }
}
