import type { Terms } from '@/lib/store/read/terms'
import type { Day } from '@/lib/units/dates'
import { noSuchTable, notYet, type Twin } from '../twins/answer-twin'
import { type Told, told } from '../twins/twin'
import { readVisits } from './read-visits'
import { nameOfJob } from './visit-words'
import type { VisitRow } from './visits-view'

type About = { asOf: Day; terms: Pick<Terms, 'currency'>; jobsOf: (row: VisitRow) => string }

/** The visits, in the order in which the page shows them. */
export const visitsTold = (rows: readonly VisitRow[], { asOf, terms: { currency }, jobsOf }: About): Told =>
  told<VisitRow>(
    'visits',
    asOf,
    [
      ['unit', 'Vehicle', ({ unit }) => unit],
      ['plate', 'Plate', ({ plate }) => plate],
      ['customer', 'Customer', ({ customer }) => customer],
      ['site', 'Site', ({ site }) => site],
      ['jobs', 'Jobs', jobsOf],
      ['must_not_be_driven', 'Must not be driven before', ({ stop }) => stop],
      ['hours', 'Hours', ({ hours }) => hours],
      ['price', 'Price', ({ price }) => price, currency],
      ['visit_price', 'Price of the visit', ({ visit }) => visit, currency],
      ['saving', 'Saves', ({ saving }) => saving, currency],
      ['saving_low', 'Saves, low end of its 80 % band', ({ savingLow }) => savingLow, currency],
      ['saving_high', 'Saves, high end of its 80 % band', ({ savingHigh }) => savingHigh, currency],
      ['saving_per_hour', 'Saves an hour', ({ perHour }) => perHour, currency],
      ['fits', 'In the hours that there are', ({ fits }) => fits],
    ],
    rows,
  )

/** Exactly what the list of visits shows at the same parameters. */
export const visitsTwin: Twin = async ({ database, organisation, parameters, now }) => {
  const { terms, found } = await readVisits({ database, organisation }, parameters, now)
  if (!found) return noSuchTable('There is no library yet.')
  if (found.done < found.total) return notYet('The visits are still being worked out: ask again in a moment.')
  const { library, asOf, view } = found
  return visitsTold(view.rows, {
    ...{ asOf, terms },
    jobsOf: ({ family, jobs }) => jobs.map((job) => nameOfJob(library, family, job)).join('; '),
  })
}
