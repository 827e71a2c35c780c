import type { ClassRates, UsageFacts } from '@/lib/records/usage'
import type { Day } from '@/lib/units/dates'
import { holdInOrder } from '../inner/hold-in-order'
import type { OrganisationScope } from '../with-organisation'

/** What a vehicle tells of how its class is used, by its records of that version. */
export type NotedUsage = { unit: string; recordsVersion: bigint; facts: UsageFacts | null }

/** Keeps what vehicles tell of their use, as of a day. */
export async function noteUsageFacts(
  scope: OrganisationScope,
  asOf: Day,
  noted: NotedUsage[],
): Promise<void> {
  const units = noted.map(({ unit }) => unit)
  await holdInOrder(scope, units)
  await scope.tx.$executeRaw`
    update vehicles set usage_facts = given.facts::json, usage_facts_version = given.version::bigint,
      usage_facts_as_of = date '1970-01-01' + ${asOf}::int
    from unnest(${units}::text[], ${noted.map(({ recordsVersion }) => `${recordsVersion}`)}::text[],
      ${noted.map(({ facts }) => (facts === null ? null : JSON.stringify(facts)))}::text[])
      as given(unit, version, facts)
    where vehicles.unit = given.unit`
}

/** Keeps how the classes are used; what was kept before goes. The class '' is the whole fleet. */
export async function replaceClassRates(
  { tx, organisation }: OrganisationScope,
  asOf: Day,
  { fleet, classes }: ClassRates,
): Promise<void> {
  const rows = [['', fleet] as const, ...classes]
  await tx.$executeRaw`delete from class_rates`
  await tx.$executeRaw`
    insert into class_rates (organisation_id, class, as_of, rates)
    select ${organisation}::uuid, class, date '1970-01-01' + ${asOf}::int, rates::json
    from unnest(${rows.map(([name]) => name)}::text[], ${rows.map(([, rates]) => JSON.stringify(rates))}::text[])
      as given(class, rates)`
}
