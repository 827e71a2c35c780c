import type { OrganisationScope } from '../with-organisation'

/** Takes back what an intake said of parts: what stood without it stands again. Says how many lines that were. */
export async function withdrawPartLines(
  { tx }: OrganisationScope,
  { id, by, now }: { id: string; by: string | null; now: Date },
): Promise<number> {
  return tx.$executeRaw`
    update part_lines set withdrawn_at = ${now}, withdrawn_by = ${by}::uuid
    where intake_id = ${id}::uuid and withdrawn_at is null`
}

/** Undoes that. What was taken back by itself before stays so. */
export async function restorePartLines({ tx }: OrganisationScope, intake: string): Promise<number> {
  return tx.$executeRaw`
    update part_lines set withdrawn_at = null, withdrawn_by = null
    where intake_id = ${intake}::uuid
      and withdrawn_at = (select taken_back_at from intakes where id = ${intake}::uuid)`
}
