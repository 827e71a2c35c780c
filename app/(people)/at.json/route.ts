import { createHash } from 'node:crypto'
import { can } from '@/lib/people/permissions'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readTerms } from '@/lib/store/read/terms'
import { readVehiclesToTakeAlong } from '@/lib/store/read/vehicles-to-take-along'
import { withOrganisation } from '@/lib/store/with-organisation'
import { databaseOf, whoAsks } from '../../require-person'
import type { Known } from '../at/known'
import { refusalOf } from '../at-entries/refusal'

/** What a phone takes along. The same as it has already is not sent again. */
export async function GET(request: Request): Promise<Response> {
  const asked = await whoAsks()
  if (!asked.ok) return refusalOf(asked.reason)
  const { person, organisation, organisationName, role } = asked.present
  const known = await withOrganisation(
    await databaseOf(asked.present),
    organisation,
    async (scope): Promise<Known> => {
      const { locale, currency, timeZone, distance, vehicleNumber } = await readTerms(scope)
      const library = (await readKnownLibrary(scope))?.library
      return {
        person: { id: person.id, name: person.name },
        organisation: { id: organisation, name: organisationName },
        mayEnter: can(role, 'enter-records'),
        terms: { locale, currency, timeZone, distance, vehicleNumber },
        zones: library?.zones ?? [],
        families: (library?.families ?? []).filter(({ retired }) => !retired),
        vehicles: await readVehiclesToTakeAlong(scope),
      }
    },
  )
  const body = JSON.stringify(known)
  const headers = {
    'Content-Type': 'application/json',
    'Cache-Control': 'private, no-cache',
    ETag: `"${createHash('sha256').update(body).digest('base64url')}"`,
    Vary: 'Cookie',
  }
  if (request.headers.get('if-none-match') === headers.ETag)
    return new Response(null, { status: 304, headers })
  return new Response(body, { headers })
}
