import { rowObject } from '@/lib/intake/row-object'
import { readVehicleRecords, type VehicleRecord } from '@/lib/store/read/vehicle-records'
import { withOrganisation } from '@/lib/store/with-organisation'
import { LIST_RECORDS } from '../../../../contract'
import { readCursor, writeCursor } from '../../../../cursor'
import { Problem } from '../../../../problem'
import { answering, serve } from '../../../../serve'
import { vehicleNamed } from '../../../../vehicle-named'

const list = answering(LIST_RECORDS, async ({ database, present, params, query }) => {
  const { state, limit, after } = query
  const records = await withOrganisation(database, present.organisation, async (scope) => {
    const { unit } = await vehicleNamed(scope, params.unit)
    return readVehicleRecords(scope, unit)
  })
  const from = after === undefined ? 0 : placeAfter(records, after)
  const rest = records.slice(from).filter((record) => state === 'all' || record.state === state)
  const page = rest.slice(0, limit)
  const last = rest.length > limit ? page.at(-1) : undefined
  return Response.json({ items: page.map(itemOf), next: last ? writeCursor([last.id]) : null })
})

/** Records are never deleted, so the last one of the page before is there. */
function placeAfter(records: readonly VehicleRecord[], after: string): number {
  const [id] = readCursor(after, ['string'])
  const place = records.findIndex((record) => record.id === id)
  if (place < 0) throw new Problem('invalid', 'after: is no `next` of an answer about this vehicle')
  return place + 1
}

const itemOf = ({ kind, id, state, enteredAt, enteredBy, row }: VehicleRecord) => ({
  ...rowObject(kind, row),
  ...(kind === 'codes' ? { code_state: row.state } : {}),
  table: kind,
  id,
  state,
  entered_at: enteredAt,
  entered_by: enteredBy,
})

export const { GET, POST, PUT, PATCH, DELETE, OPTIONS } = serve({ GET: list })
