'use server'

import { headers } from 'next/headers'
import { tooManyReports, vehicleOfLabel } from '@/lib/people/labels'
import { productDatabase } from '@/lib/store/product-database'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addDriverReport } from '@/lib/store/write/add-driver-report'
import { done, type FormState, parseForm, refused } from '../../../ui/form-state'
import { driverSchema } from './driver-schema'
import { MIND, RECEIVED, REFUSED } from './driver-words'

/** Keeps what a driver reports. Whoever holds the label may: its key is all that is asked for, each time. */
export async function reportByLabel(key: string, before: FormState, data: FormData): Promise<FormState> {
  const [connections, now] = [await productDatabase(), new Date()]
  const not = (reason: keyof typeof REFUSED) =>
    refused(before, data, [{ field: null, message: REFUSED[reason] }])
  if (await tooManyReports(connections, { key: String(key), headers: await headers(), now }))
    return not('too-often')
  const vehicle = await vehicleOfLabel(connections, String(key))
  if (!vehicle) return not('gone')
  const { database, organisation, unit } = vehicle
  const { distance } = await withOrganisation(database, organisation, readTerms)
  const parsed = parseForm(driverSchema(distance), data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const { odometer, ...said } = parsed.value
  const kept = await withOrganisation(
    database,
    organisation,
    (scope) => addDriverReport(scope, unit, { ...said, odometerKm: odometer }, now),
    'write',
  )
  if (!kept.ok) return not(kept.reason)
  const mind = MIND[said.kind]
  return done(before, RECEIVED, { lines: mind === undefined ? [] : [mind] })
}
