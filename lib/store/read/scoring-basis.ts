import { BASIS, WITH_CLASS_RATE } from '../inner/stale'
import type { OrganisationScope } from '../with-organisation'
import type { ScoringGround } from './scoring-ground'

/**
 * What a vehicle's scores have to rest on now, in one text: other text, other scores. Asked for before its records are
 * read, it never names older ones than are then found.
 *
 * @returns null where there is no such vehicle
 */
export async function readScoringBasis(
  { tx }: OrganisationScope,
  unit: string,
  ground: ScoringGround,
): Promise<string | null> {
  const [found] = await tx.$queryRawUnsafe<{ basis: string }[]>(
    `select ${BASIS} as basis from ${WITH_CLASS_RATE} where vehicle.unit = $2`,
    ground.text,
    unit,
  )
  return found?.basis ?? null
}
