'use server'

import { refresh } from 'next/cache'
import { rowObject } from '@/lib/intake/row-object'
import { asRecords } from '@/lib/intake/typed-entry'
import { enterRecords } from '@/lib/jobs/enter-records'
import { readVehicleRows } from '@/lib/store/read/vehicle-rows'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../require-person'
import { done, type FormState, refused } from '../../../ui/form-state'
import { readEntryGround } from './entry-ground'
import { movedLines } from './moved-lines'
import { typedIn } from './typed-in'

/** Changes what a vehicle is; what stood before stays as a version. A blank field leaves what stands. */
export async function changeFacts(unit: string, before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('enter-records')
  const now = new Date()
  const ground = await readEntryGround({ database, organisation, unit, now })
  const { vehicles: found } = await withOrganisation(database, organisation, (scope) =>
    readVehicleRows(scope, { unit, after: null, limit: 1 }),
  )
  const [stands] = found
  if (!stands || ground === null)
    return refused(before, data, [{ field: null, message: 'There is no such vehicle.' }])
  const { status, left_on, ...cells } = typedIn(data)
  const isGone = status === 'sold' || status === 'retired'
  if (isGone && !left_on)
    return refused(before, data, [{ field: 'left_on', message: 'Write when it was sold or retired' }])
  const given = {
    ...rowObject('vehicles', stands),
    ...filled(cells),
    unit,
    status,
    left_on: isGone ? left_on : null,
  }
  const { records, slips } = asRecords({ vehicles: [given] }, ground)
  if (slips.length > 0) return refused(before, data, slips)
  const { counts, vehicles } = await enterRecords(database, organisation, records, { now, by: person.id })
  refresh()
  if (counts.vehicles.superseded === 0) return done(before, 'Nothing was changed: it is on record like that.')
  return done(before, 'Changed.', { lines: movedLines(vehicles, ground) })
}

const filled = (cells: Record<string, string>) =>
  Object.fromEntries(Object.entries(cells).filter(([, text]) => text.trim() !== ''))
