import type { OrganisationScope } from '../with-organisation'

/** Notes when a member was last here. */
export async function notePresence(
  { tx }: OrganisationScope,
  { person, now }: { person: string; now: Date },
): Promise<void> {
  await tx.$executeRaw`update memberships set last_seen_at = ${now} where person_id = ${person}::uuid`
}
