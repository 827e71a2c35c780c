import type { OrganisationScope } from '../with-organisation'

/** A key of the library that live records name; `of` is the weak point of a revision. */
export type KeyInUse = {
  kind: 'family' | 'variant' | 'weakPoint' | 'revision' | 'sign'
  family: string
  of: string | null
  key: string
  records: number
}

/** Every key that vehicles, repairs and checks of the organisation name, with how many do. */
export async function readKeysInUse({ tx }: OrganisationScope): Promise<KeyInUse[]> {
  return tx.$queryRaw<KeyInUse[]>`
    with live as (select id, family, variant from vehicles where withdrawn_at is null),
    repaired as (
      select live.family, weak_point, revision from repairs join live on live.id = vehicle_id
      where superseded_at is null and repairs.withdrawn_at is null),
    checked as (
      select live.family, sign->>'sign' as sign from checks join live on live.id = vehicle_id,
        jsonb_array_elements(seen || coalesce(looked_for, '[]')) sign
      where superseded_at is null and checks.withdrawn_at is null),
    named as (
      select 'family' as kind, family, null as of, family as key from live
      union all select 'variant', family, null, variant from live
      union all select 'weakPoint', family, null, weak_point from repaired
      union all select 'revision', family, weak_point, revision from repaired
      union all select 'sign', family, null, sign from checked)
    select kind, family, of, key, count(*)::int as records from named where key is not null
    group by kind, family, of, key order by kind, family, of, key`
}
