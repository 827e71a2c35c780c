import type { OrganisationScope } from '../with-organisation'

/** Notes when a token was last used. */
export async function noteTokenUse(
  { tx }: OrganisationScope,
  { id, now }: { id: string; now: Date },
): Promise<void> {
  await tx.$executeRaw`update tokens set last_used_at = ${now} where id = ${id}::uuid`
}
