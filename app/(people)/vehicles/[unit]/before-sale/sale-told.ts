import { vehicleBeforeSale } from '@/lib/jobs/before-sale'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { noSuchTable, type Twin } from '../../../twins/answer-twin'
import { told } from '../../../twins/twin'
import { jobWords, type SaleLine, saleLines } from './sale-words'

/** The jobs before a sale, the best first, with what the page is told that each adds to the price. */
export const saleTwin: Twin = ({ database, organisation, parameters, params, now }) =>
  withOrganisation(database, organisation, async (scope) => {
    const { currency } = await readTerms(scope)
    const unit = params.unit ?? ''
    const sale = await vehicleBeforeSale(scope, unit, now)
    if (!sale) return noSuchTable('Nothing is reckoned for this vehicle.')
    return told<SaleLine>(
      `before-sale-of-${unit}`,
      sale.asOf,
      [
        ['job', 'Job', ({ job }) => jobWords(job)],
        ['cost', 'Costs now', ({ job }) => job.cost, currency],
        ['fall', 'Off the cover', ({ job }) => job.fall, currency],
        ['fall_low', 'Off the cover, low end of its 80 % band', ({ job }) => job.fallBand.low, currency],
        ['fall_high', 'Off the cover, high end of its 80 % band', ({ job }) => job.fallBand.high, currency],
        ['added', 'Adds to the price', ({ added }) => added, currency],
        ['gain', 'Margin gains', ({ gain }) => gain, currency],
        ['gain_low', 'Margin gains, low end of its 80 % band', ({ low }) => low, currency],
        ['gain_high', 'Margin gains, high end of its 80 % band', ({ high }) => high, currency],
        ['cautions', 'Cautions', ({ job }) => job.cautions.join(' ') || null],
      ],
      saleLines(sale.jobs, parameters),
    )
  })
