import type { NamedPositions } from '@/lib/intake/family-positions'
import type { OrganisationScope } from '../with-organisation'

/** Every position that live records of a family's vehicles name, of weak points and of signs, and every trouble code. */
export async function readNamedPositions({ tx }: OrganisationScope, family: string): Promise<NamedPositions> {
  const positions = await tx.$queryRaw<NamedPositions['positions']>`
    with live as (select id from vehicles where withdrawn_at is null and family = ${family}),
    named as (
      select 'weakPoint' as kind, weak_point as key, unnest(positions) as position
      from repairs join live on live.id = vehicle_id
      where superseded_at is null and repairs.withdrawn_at is null
      union all
      select 'sign', sign->>'sign', (sign->>'position')::int
      from checks join live on live.id = vehicle_id,
        jsonb_array_elements(seen || coalesce(looked_for, '[]')) sign
      where superseded_at is null and checks.withdrawn_at is null)
    select kind, key, position, count(*)::int as records from named where position is not null
    group by kind, key, position order by kind, key, position`
  const codes = await tx.$queryRaw<NamedPositions['codes']>`
    select code, count(*)::int as records from codes join vehicles on vehicles.id = vehicle_id
    where vehicles.withdrawn_at is null and family = ${family}
      and superseded_at is null and codes.withdrawn_at is null
    group by code order by code`
  return { positions, codes }
}
