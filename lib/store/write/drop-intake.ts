import type { OrganisationScope } from '../with-organisation'

/**
 * Drops files that were laid aside and not taken in. Rejected rows that were mended into them (at that instant) are to
 * be mended again.
 */
export async function dropIntake({ tx }: OrganisationScope, id: string): Promise<boolean> {
  await tx.$executeRaw`
    update rejected_rows set mended_at = null
    where mended_at = (select made_at from intakes where id = ${id}::uuid and state = 'staged')`
  const dropped = await tx.$executeRaw`
    delete from intakes where id = ${id}::uuid and state in ('staged', 'failed') and done_at is null
      and not exists (select from jobs where jobs.id = ${id}::uuid and jobs.state = 'running' and kind <> 'intake-read')`
  if (dropped === 1) await tx.$executeRaw`delete from jobs where id = ${id}::uuid`
  return dropped === 1
}
