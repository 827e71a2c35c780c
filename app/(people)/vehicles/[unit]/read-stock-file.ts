import { vehicleSetAside } from '@/lib/jobs/set-aside'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { withOrganisation } from '@/lib/store/with-organisation'
import { readStock } from './read-stock'

/** What the file of a vehicle shows: its sheet, and what to set aside for it; null where there is no such vehicle. */
export async function readStockFile(
  { database, organisation }: { database: Database; organisation: OrganisationId },
  unit: string,
  now: Date,
) {
  const stock = await readStock({ database, organisation }, unit, now)
  if (!stock) return null
  const asked = { unit, cover: null, excluded: null, claimLimit: null }
  const aside = await withOrganisation(database, organisation, (scope) => vehicleSetAside(scope, asked, now))
  return { stock, aside }
}
