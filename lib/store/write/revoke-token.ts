import type { OrganisationScope } from '../with-organisation'

/** Revokes a token for good; false where there is none of that id that is in use. */
export async function revokeToken(
  { tx }: OrganisationScope,
  { id, now }: { id: string; now: Date },
): Promise<boolean> {
  const revoked = await tx.$executeRaw`
    update tokens set revoked_at = ${now} where id = ${id}::uuid and revoked_at is null`
  return revoked === 1
}
