import type { Choices } from '@/lib/records/merge-family'
import type { OrganisationScope } from '../with-organisation'

/** A library file of somebody else, of which a family is being taken in. */
export type OpenTaking = {
  id: string
  source: string
  file: string
  /** Which family of the file, and the key that it shall have here; null until that is said. */
  chosen: string | null
  key: string | null
  choices: Choices
}

/** A file of which nothing was taken in yet. */
export type BegunTaking = { id: string; source: string; madeAt: Date; madeBy: string | null }

/** A family that was taken in. */
export type TakenFamily = {
  key: string
  source: string
  takenAt: Date
  takenBy: string | null
  libraryVersion: number
}

/** One that is under way, held until the transaction ends; null where there is none of that id. */
export async function readOpenTaking({ tx }: OrganisationScope, id: string): Promise<OpenTaking | null> {
  const [found] = await tx.$queryRaw<OpenTaking[]>`
    select id::text, source, file::text, chosen, key, choices from family_takings
    where id::text = ${id} and taken_at is null for update`
  return found ?? null
}

/** Those that are under way, the latest first. */
export function readBegunTakings({ tx }: OrganisationScope): Promise<BegunTaking[]> {
  return tx.$queryRaw<BegunTaking[]>`
    select family_takings.id::text, source, family_takings.made_at as "madeAt", person.name as "madeBy"
    from family_takings left join people person on person.id = made_by
    where taken_at is null order by family_takings.made_at desc, family_takings.id desc`
}

/** What was taken in, the latest first. */
export function readTakenFamilies({ tx }: OrganisationScope): Promise<TakenFamily[]> {
  return tx.$queryRaw<TakenFamily[]>`
    select key, source, taken_at as "takenAt", person.name as "takenBy", library_version as "libraryVersion"
    from family_takings left join people person on person.id = taken_by
    where taken_at is not null order by taken_at desc, family_takings.id desc`
}
