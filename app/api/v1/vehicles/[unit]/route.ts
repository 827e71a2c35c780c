import { rowObject } from '@/lib/intake/row-object'
import { withOrganisation } from '@/lib/store/with-organisation'
import { SHOW_VEHICLE } from '../../../contract'
import { answering, serve } from '../../../serve'
import { vehicleNamed } from '../../../vehicle-named'

const show = answering(SHOW_VEHICLE, async ({ database, present, params }) => {
  const vehicle = await withOrganisation(database, present.organisation, (scope) =>
    vehicleNamed(scope, params.unit),
  )
  return Response.json(rowObject('vehicles', vehicle))
})

export const { GET, POST, PUT, PATCH, DELETE, OPTIONS } = serve({ GET: show })
