import { STALE_CHANNEL } from '../stale-channel'
import type { OrganisationScope } from '../with-organisation'
import { holdInOrder } from './hold-in-order'

/**
 * Notes that the row or the records of vehicles have changed, which makes their scores stale, and wakes whoever
 * brings scores up to date.
 */
export async function touchVehicles(scope: OrganisationScope, units: string[]): Promise<void> {
  const { tx, organisation } = scope
  if (units.length === 0) return
  if (units.length > 1) await holdInOrder(scope, units)
  await tx.$queryRaw`
    with touched as (
      update vehicles set records_version = records_version + 1
      where organisation_id = ${organisation}::uuid and unit = any(${units}::text[]))
    select pg_notify(${STALE_CHANNEL}, ${organisation})::text`
}
