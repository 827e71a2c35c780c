import { readDriverReports, type StoredReport } from '@/lib/store/read/driver-reports'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'
import { DRIVER_KINDS } from '../../(label)/q/[key]/driver-words'
import type { Twin } from '../twins/answer-twin'
import { told } from '../twins/twin'

/** Nobody keeps so many. */
const EVERY_ONE = 1_000_000

/** Every report of a driver, those that wait first, with what became of it. */
export const reportsTwin: Twin = async ({ database, organisation, now }) => {
  const { terms, reports } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    reports: [
      ...(await readDriverReports(scope, { waiting: true, most: EVERY_ONE })),
      ...(await readDriverReports(scope, { answered: true, most: EVERY_ONE })),
    ],
  }))
  return told<StoredReport>(
    'drivers-reports',
    dayIn(terms.timeZone, now),
    [
      ['unit', 'Vehicle', ({ unit }) => unit],
      ['kind', 'The driver says', ({ kind }) => DRIVER_KINDS[kind]],
      ['words', 'Where and when', ({ words }) => words],
      ['odometer_km', 'Odometer', ({ odometerKm }) => odometerKm, 'km'],
      ['driver', 'Name', ({ driver }) => driver],
      ['received_at', 'Received', ({ receivedAt }) => receivedAt.toISOString()],
      ['answer', 'What became of it', ({ answer }) => answer?.act ?? 'waits'],
      ['reason', 'Why it was set aside', ({ answer }) => answer?.reason ?? null],
      ['answered_at', 'Answered', ({ answer }) => answer?.at.toISOString() ?? null],
      ['answered_by', 'Answered by', ({ answer }) => answer?.byName ?? null],
    ],
    reports,
  )
}
