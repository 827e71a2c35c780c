import type { Settings } from '@/lib/records/settings'
import type { Prisma } from '@/prisma/client/client'
import { writtenActor } from '../actor'
import { actorOf, type Database } from '../database'
import { tellingNoRoom } from '../disk-full'
import { addPerson, type NewPerson } from '../inner/add-person'
import { newId } from '../inner/new-id'

export type { NewPerson }

export type NewOrganisation = {
  name: string
  settings: Settings
  /** Who owns it: somebody who is there already (the id), or who is new here; nobody yet. */
  owner?: string | NewPerson
  /** It is the owner who makes it, whoever acts until they are there. */
  madeByOwner?: boolean
  now: Date
}

/** Writes what an organisation begins with; its id is still to be minted. */
type Fill = (tx: Prisma.TransactionClient, id: string) => Promise<void>

/** Years of records may come with it. */
const TIME_LIMIT_MS = 600_000

/**
 * Makes an organisation, its owner a member, and with `fill` what it begins with: all of it, or nothing.
 *
 * @returns its id, still to be minted; null when there is one of that name
 */
export async function createOrganisation(
  database: Database,
  organisation: NewOrganisation,
  fill: Fill = async () => {},
): Promise<string | null> {
  const made = database.$transaction(
    async (tx) => {
      await tx.$queryRaw`select set_config('gudgeon.actor', ${actorOf(database)}, true)`
      const id = await addOrganisation(tx, organisation)
      if (id !== null) await fill(tx, id)
      return id
    },
    { timeout: TIME_LIMIT_MS },
  )
  return tellingNoRoom(made)
}

async function addOrganisation(
  tx: Prisma.TransactionClient,
  { name, settings, owner, madeByOwner, now }: NewOrganisation,
): Promise<string | null> {
  const id = newId(now)
  const made = await tx.$executeRaw`
      insert into organisations (id, name, settings, created_at)
      values (${id}::uuid, ${name}, ${JSON.stringify(settings)}::jsonb, ${now})
      on conflict (name) do nothing`
  if (made === 0) return null
  await tx.$queryRaw`select set_config('gudgeon.organisation', ${id}, true)`
  if (owner === undefined) return id
  const person = typeof owner === 'string' ? owner : await addPerson(tx, owner, now)
  if (madeByOwner)
    await tx.$queryRaw`select set_config('gudgeon.actor', ${writtenActor({ kind: 'person', id: person })}, true)`
  await tx.$executeRaw`
      insert into memberships (organisation_id, person_id, role, made_at)
      values (${id}::uuid, ${person}::uuid, 'owner', ${now})`
  return id
}
