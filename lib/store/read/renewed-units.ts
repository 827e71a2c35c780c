import { BASIS, WITH_CLASS_RATE } from '../inner/stale'
import type { OrganisationScope } from '../with-organisation'
import type { ScoringGround } from './scoring-ground'

/** A vehicle into which a part of a known supplier or batch was put, and on what its lives rest, in one text. */
export type RenewedUnit = { unit: string; basis: string }

/** All of them, by number. Those that have left are among them: their parts have lived, too. */
export async function readRenewedUnits(
  { tx }: OrganisationScope,
  ground: ScoringGround,
): Promise<RenewedUnit[]> {
  return tx.$queryRawUnsafe<RenewedUnit[]>(
    `select vehicle.unit, ${BASIS} as basis from ${WITH_CLASS_RATE}
     where vehicle.withdrawn_at is null and vehicle.id in (
       select vehicle_id from repairs where superseded_at is null and withdrawn_at is null and action = 'renew'
         and (supplier is not null or batch is not null))
     order by vehicle.unit`,
    ground.text,
  )
}
