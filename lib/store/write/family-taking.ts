import type { Side } from '@/lib/records/merge-family'
import { newId } from '../inner/new-id'
import type { OrganisationScope } from '../with-organisation'

/**
 * Keeps a library file of somebody else, of which a family is to be taken in.
 *
 * @param file found valid already
 * @param source what the file calls itself
 * @returns its id
 */
export async function beginTaking(
  { tx, organisation }: OrganisationScope,
  { file, source, now, by }: { file: string; source: string; now: Date; by: string },
): Promise<string> {
  const id = newId(now)
  await tx.$executeRaw`
    insert into family_takings (organisation_id, id, source, file, made_by, made_at)
    values (${organisation}::uuid, ${id}::uuid, ${source}, ${file}::json, ${by}::uuid, ${now})`
  return id
}

/** Says which family is taken in, and under which key; what was decided of another one is forgotten. */
export async function chooseTaken(
  { tx }: OrganisationScope,
  { id, chosen, key }: { id: string; chosen: string; key: string },
): Promise<void> {
  await tx.$executeRaw`
    update family_takings set chosen = ${chosen}, key = ${key},
      choices = case when chosen = ${chosen} and key = ${key} then choices else '{}' end
    where id::text = ${id} and taken_at is null`
}

/** Keeps which side each difference is decided for. */
export async function decideTaking(
  { tx }: OrganisationScope,
  { id, choices }: { id: string; choices: Readonly<Record<string, Side>> },
): Promise<void> {
  await tx.$executeRaw`
    update family_takings set choices = ${JSON.stringify(choices)}::json where id::text = ${id} and taken_at is null`
}

/**
 * Notes that the family is in force.
 *
 * @param file the library file with that family alone: the next merge rests on it
 */
export async function noteTaken(
  { tx }: OrganisationScope,
  { id, file, version, now, by }: { id: string; file: string; version: number; now: Date; by: string },
): Promise<void> {
  await tx.$executeRaw`
    update family_takings set file = ${file}::json, library_version = ${version}, taken_at = ${now}, taken_by = ${by}::uuid
    where id::text = ${id}`
}

/** Takes away a file of which nothing was taken in. */
export async function dropTaking({ tx }: OrganisationScope, id: string): Promise<void> {
  await tx.$executeRaw`delete from family_takings where id::text = ${id} and taken_at is null`
}
