import { rowObject } from '@/lib/intake/row-object'
import { readVehicleRows } from '@/lib/store/read/vehicle-rows'
import { withOrganisation } from '@/lib/store/with-organisation'
import { LIST_VEHICLES } from '../../contract'
import { readCursor, writeCursor } from '../../cursor'
import { posting } from '../../enter-body'
import { answering, serve } from '../../serve'

const list = answering(LIST_VEHICLES, async ({ database, present, query: { after, ...query } }) => {
  const [unit] = after === undefined ? [null] : readCursor(after, ['string'])
  const { vehicles, next } = await withOrganisation(database, present.organisation, (scope) =>
    readVehicleRows(scope, { ...query, after: unit }),
  )
  return Response.json({
    items: vehicles.map((vehicle) => rowObject('vehicles', vehicle)),
    next: next === null ? null : writeCursor([next]),
  })
})

export const { GET, POST, PUT, PATCH, DELETE, OPTIONS } = serve({ GET: list, POST: posting('vehicles') })
