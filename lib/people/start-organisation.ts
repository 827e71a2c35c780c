import { settingsSchema, type VehicleNumber } from '@/lib/records/settings'
import type { Database } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { readMembers } from '@/lib/store/read/members'
import { withOrganisation } from '@/lib/store/with-organisation'
import { createOrganisation, type NewPerson } from '@/lib/store/write/create-organisation'
import { signInOf } from './sign-in'

/** What an organisation begins with; the rest is set later. */
export type Beginning = {
  name: string
  currency: string
  locale: string
  timeZone: string
  distance: 'km' | 'mi'
  vehicleNumber: VehicleNumber
}

/** Its first owner: by name on this machine, with mail and password on a server. */
export type FirstOwner = { name: string; account?: { mail: string; password: string } }

/**
 * Starts an organisation without records, with its owner.
 *
 * @returns the owner's id; null when there is an organisation of that name
 */
export async function startOrganisation(
  database: Database,
  { name, ...settings }: Beginning,
  { name: ownerName, account }: FirstOwner,
  now: Date,
): Promise<string | null> {
  const owner: NewPerson = { name: ownerName }
  if (account) {
    const { password } = await signInOf(database).$context
    owner.account = { mail: account.mail.toLowerCase(), passwordHash: await password.hash(account.password) }
  }
  const id = await createOrganisation(database, {
    name,
    settings: settingsSchema.parse(settings),
    owner,
    madeByOwner: true,
    now,
  })
  if (id === null) return null
  const [member] = await withOrganisation(database, organisationId(id), readMembers)
  return member?.id ?? null
}
