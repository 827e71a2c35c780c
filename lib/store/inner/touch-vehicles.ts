import { STALE_CHANNEL } from '../stale-channel'
import type { OrganisationScope } from '../with-organisation'

/**
 * Notes that the row or the records of vehicles have changed, which makes their scores stale, and wakes whoever
 * brings scores up to date.
 */
export async function touchVehicles({ tx, organisation }: OrganisationScope, units: string[]): Promise<void> {
  if (units.length === 0) return
  await tx.$executeRaw`
    with touched as (select id from vehicles where unit = any(${units}::text[]) order by id for update)
    update vehicles set records_version = records_version + 1
    from touched where vehicles.organisation_id = ${organisation}::uuid and vehicles.id = touched.id`
  await tx.$queryRaw`select pg_notify(${STALE_CHANNEL}, ${organisation})::text`
}
