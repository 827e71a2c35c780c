import { csvLine } from '@/lib/intake/csv-line'
import type { LookToMake } from '@/lib/jobs/looks-to-make'
import type { Terms } from '@/lib/store/read/terms'
import { type Day, formatDay } from '@/lib/units/dates'
import type { Formats } from '../../ui/formats'
import { harmless } from '../watchlist-csv'
import { changeWords, kindWords } from './looks-words'

const day = (value: Day | null) => (value === null ? null : formatDay(value))

/** The looks as a CSV file (RFC 4180), in the order of the page; a number has its unit in its heading. */
export function looksCsv(
  looks: readonly LookToMake[],
  { currency }: Pick<Terms, 'currency'>,
  formats: Formats,
): string {
  const money = currency === null ? '' : ` (${currency})`
  const cells: [heading: string, value: (look: LookToMake) => string | number | null][] = [
    ['Vehicle', ({ unit }) => unit],
    ['Plate', ({ plate }) => plate],
    ['Engine', ({ family }) => family],
    ['Look', ({ kind }) => kindWords(kind)],
    ['What it may change', (look) => changeWords(look, formats)],
    [`Worth, its cost off${money}`, ({ worth }) => worth],
    ['Takes (hours)', ({ hours }) => hours],
    [`Costs${money}`, ({ price }) => price],
    ['Site', ({ site }) => site],
    ['Customer', ({ customer }) => customer],
    ['Last full scan on', ({ lastFullScanOn }) => day(lastFullScanOn)],
    ['Last looked at on', ({ lastLookedAtOn }) => day(lastLookedAtOn)],
    ['As of', ({ asOf }) => day(asOf)],
  ]
  return [
    csvLine(cells.map(([heading]) => heading)),
    ...looks.map((look) => csvLine(cells.map(([, value]) => harmless(value(look))))),
  ].join('')
}
