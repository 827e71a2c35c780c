import {
  type Explained,
  type RecordEffects,
  recordEffects,
  type WhyChance,
  whyChance,
} from '@/lib/jobs/why-chance'
import type { Place } from './place'

/** Why the chance of the open weak point is what it is. */
export type Why = WhyChance & {
  /** What each record does to it; null where that was not asked for. */
  effects: RecordEffects | 'cannot-be-reckoned' | null
}

/** @returns null where nothing is open, or it is not scored */
export async function readWhy(
  explained: Explained | null,
  component: { weakPoint: string; position: number } | undefined,
  horizonDays: number,
  place: Place,
): Promise<Why | null> {
  if (!explained || !component) return null
  const why = whyChance(explained, { ...component, horizonDays })
  if (!why) return null
  if (place.why !== 'records') return { ...why, effects: null }
  return { ...why, effects: (await recordEffects(explained, why)) ?? 'cannot-be-reckoned' }
}
