import { type PointAside, vehicleSetAside } from '@/lib/jobs/set-aside'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { noSuchTable, type Twin } from '../../../twins/answer-twin'
import { told } from '../../../twins/twin'
import { coverAsked } from './cover-asked'

/** What each weak point makes of what a vehicle costs under its cover, at the cover that the page is asked for. */
export const asideTwin: Twin = ({ database, organisation, parameters, params, now }) =>
  withOrganisation(database, organisation, async (scope) => {
    const { distance, currency } = await readTerms(scope)
    const unit = params.unit ?? ''
    const aside = await vehicleSetAside(scope, { unit, ...coverAsked(parameters, distance) }, now)
    if (!aside) return noSuchTable('Nothing is reckoned for this vehicle.')
    return told<PointAside>(
      `set-aside-for-${unit}`,
      aside.asOf,
      [
        ['weak_point', 'Weak point', ({ name }) => name],
        ['key', 'Key', ({ weakPoint }) => weakPoint],
        ['mean', 'On the average', ({ mean }) => mean, currency],
        ['share', 'Of the whole', ({ share }) => share],
        ['cover_days', 'Cover', () => aside.cover.days, 'days'],
        ['cover_km', 'Cover', () => aside.cover.km, 'km'],
        ['all_mean', 'All together, on the average', () => aside.amounts.mean, currency],
        ['all_enough', `All together, enough in ${aside.enough.share}`, () => aside.enough.amount, currency],
      ],
      aside.points,
    )
  })
