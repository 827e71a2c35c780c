import type { UsageFacts } from '@/lib/records/usage'
import type { Day } from '@/lib/units/dates'
import type { OrganisationScope } from '../with-organisation'

/** A vehicle whose usage facts are not of its records as they are, or not of this day. */
export type StaleUsage = { unit: string; recordsVersion: bigint; facts: UsageFacts | null }

export async function readStaleUsage(
  { tx }: OrganisationScope,
  asOf: Day,
  limit: number,
): Promise<StaleUsage[]> {
  return tx.$queryRaw<StaleUsage[]>`
    select unit, records_version as "recordsVersion", usage_facts as facts from vehicles
    where withdrawn_at is null and (usage_facts_version is distinct from records_version
      or usage_facts_as_of is distinct from date '1970-01-01' + ${asOf}::int)
    order by id limit ${limit}`
}

/** What every vehicle tells of how its class is used. */
export async function readUsageFacts({ tx }: OrganisationScope): Promise<UsageFacts[]> {
  const found = await tx.$queryRaw<{ facts: UsageFacts }[]>`
    select usage_facts as facts from vehicles
    where withdrawn_at is null and usage_facts is not null order by sequence`
  return found.map(({ facts }) => facts)
}
