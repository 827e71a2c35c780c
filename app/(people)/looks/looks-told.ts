import { type LookToMake, looksToMake } from '@/lib/jobs/looks-to-make'
import { readTerms, type Terms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import type { Day } from '@/lib/units/dates'
import { type Formats, formatsFor } from '../../ui/formats'
import type { Twin } from '../twins/answer-twin'
import { dayCell, type Told, told } from '../twins/twin'
import { looksAsked } from './looks-asked'
import { changeWords, kindWords } from './looks-words'

/** The looks, in the order of the page. */
export const looksTold = (
  looks: readonly LookToMake[],
  { asOf, currency, formats }: Pick<Terms, 'currency'> & { asOf: Day | null; formats: Formats },
): Told =>
  told<LookToMake>(
    'looks',
    asOf,
    [
      ['unit', 'Vehicle', ({ unit }) => unit],
      ['plate', 'Plate', ({ plate }) => plate],
      ['engine', 'Engine', ({ family }) => family],
      ['look', 'Look', ({ kind }) => kindWords(kind)],
      ['may_change', 'What it may change', (look) => changeWords(look, formats)],
      ['worth', 'Worth, its cost off', ({ worth }) => worth, currency],
      ['hours', 'Takes', ({ hours }) => hours, 'hours'],
      ['price', 'Costs', ({ price }) => price, currency],
      ['site', 'Site', ({ site }) => site],
      ['customer', 'Customer', ({ customer }) => customer],
      ['last_full_scan_on', 'Last full scan on', (look) => dayCell(look.lastFullScanOn)],
      ['last_looked_at_on', 'Last looked at on', (look) => dayCell(look.lastLookedAtOn)],
    ],
    looks,
  )

/** The looks that the page shows at the same parameters, all of them. */
export const looksTwin: Twin = async ({ database, organisation, parameters }) =>
  withOrganisation(database, organisation, async (scope) => {
    const terms = await readTerms(scope)
    const { looks, asOf } = await looksToMake(scope, looksAsked(parameters))
    return looksTold(looks, { asOf, ...terms, formats: formatsFor(terms, terms.distance) })
  })
