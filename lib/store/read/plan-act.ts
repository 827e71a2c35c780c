import type { OrganisationScope } from '../with-organisation'
import type { ToldAct } from '../write/plan-act'

export type LastPlanAct = { id: string; told: ToldAct; at: Date; byName: string | null }

/** The last thing that a person did with the plan in force, as far as it stands: it can be undone. Null where there is none. */
export async function readLastPlanAct({ tx }: OrganisationScope): Promise<LastPlanAct | null> {
  const [found] = await tx.$queryRaw<LastPlanAct[]>`
    select act.id::text, act.told, act.at, person.name as "byName"
    from plan_acts act left join people person on person.id = act.by
    where act.undone_at is null and act.at >= coalesce((select max(in_force_at) from plans), '-infinity')
    order by act.at desc, act.id desc limit 1`
  return found ?? null
}
