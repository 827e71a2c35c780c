import type { OrganisationScope } from '../with-organisation'

/** Says in what share of cases the parts in stock are to be enough. No score rests on it. */
export async function putServiceLevel({ tx, organisation }: OrganisationScope, level: number): Promise<void> {
  await tx.$executeRaw`
    update organisations set settings = settings || jsonb_build_object('serviceLevel', ${level}::float)
    where id = ${organisation}::uuid`
}
