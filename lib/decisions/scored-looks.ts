/** What of looking at a vehicle is kept with its score: the looks worth making, and what only a scan would show. */
import type { FollowedVehicle } from '@/lib/scoring/follow-vehicle'
import { chanceDeveloping } from '@/lib/scoring/score-components'
import type { LookKind, WorthwhileLook } from './advice'

/** A look worth making. */
export interface ScoredLook {
  kind: LookKind
  /** Expected saving, net of the look's price. */
  worth: number
  hours: number
  price: number
  /** What some outcome would move, and what is right of it as long as nobody looks. */
  moves: { weakPoint: string; position: number; now: 'act' | 'leave' }[]
}

/** A part whose defect lights no lamp, so that only a look shows it. */
export interface UnlitPart {
  weakPoint: string
  position: number
  pDeveloping: number
}

export interface ScoredLooks {
  worthwhile: ScoredLook[]
  /** The likeliest to be going of those that a scan finds and no lamp tells of; null where there is none. */
  unlit: UnlitPart | null
}

export function scoredLooks(vehicle: FollowedVehicle, looks: readonly WorthwhileLook[]): ScoredLooks {
  const { components } = vehicle.belief.plan
  return {
    worthwhile: looks.map(({ kind, worth, hours, price, moved }) => ({
      ...{ kind, worth, hours, price },
      moves: [...moved].map(([c, now]) => ({
        ...{ weakPoint: components[c]!.weakPoint.key, position: components[c]!.position, now },
      })),
    })),
    unlit: likeliestUnlit(vehicle),
  }
}

/** Of the parts that leave a code and light no lamp, the likeliest to be going. */
function likeliestUnlit({ belief }: FollowedVehicle): UnlitPart | null {
  const lights = new Map<string, boolean>()
  for (const { kind, lamp, retired, causes } of belief.plan.family.signs) {
    if (kind !== 'code' || retired) continue
    for (const { weakPoint } of causes) lights.set(weakPoint, lamp || (lights.get(weakPoint) ?? false))
  }
  const unlit = belief.plan.components.flatMap(({ weakPoint: { key }, position }, c) =>
    lights.get(key) === false && !belief.beliefs[c]!.failed
      ? [{ weakPoint: key, position, pDeveloping: chanceDeveloping(belief, c) }]
      : [],
  )
  return unlit.toSorted((a, b) => b.pDeveloping - a.pDeveloping)[0] ?? null
}
