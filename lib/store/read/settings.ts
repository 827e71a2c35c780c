import type { Settings } from '@/lib/records/settings'
import type { OrganisationScope } from '../with-organisation'

/** The organisation's own settings. */
export async function readSettings({ tx, organisation }: OrganisationScope): Promise<Settings> {
  const [found] = await tx.$queryRaw<{ settings: Settings }[]>`
    select settings from organisations where id = ${organisation}::uuid`
  if (!found) throw new Error('There is no such organisation')
  return found.settings
}
