import type { StockLot } from '@/lib/jobs/freshen-stock'
import type { Formats } from '../../ui/formats'
import { casesWords, coverWords } from '../vehicles/[unit]/set-aside/aside-words'
import type { StockColumn, StockLine } from './stock-view'

type Told = Pick<Formats, 'money' | 'count' | 'share' | 'distance' | 'day'>

/** Column headings. @param share in how many of all cases an amount is enough */
export const stockHeadings = (share: number): Record<StockColumn, string> => ({
  unit: 'Vehicle',
  status: 'Where it stands',
  days: 'Days in stock',
  price: 'Asking price',
  value: 'Value',
  amount: `Set aside, enough in ${casesWords(share)}`,
  share: 'Of its value',
  unknown: 'Of it for unknown history',
})

/** What all of it may cost together, in sentences. @param apart the sum of what is enough for each by itself */
export function lotWords({ total, share, vehicles }: StockLot, apart: number, formats: Told): string[] {
  const many = vehicles === 1 ? 'the one vehicle' : `all ${formats.count(vehicles)} vehicles together`
  const cases = casesWords(share)
  return [
    `For ${many}, ${formats.money(total.amount)} is enough in ${cases} cases: in half of them ` +
      `${formats.money(total.p50)} is, in 19 of 20 ${formats.money(total.p95)}. On the average it comes to ${formats.money(total.mean)}.`,
    ...(vehicles > 1 ? [apartWords(apart, total.amount, formats)] : []),
  ]
}

/** Why that is not the sum of what is enough for each by itself. */
function apartWords(apart: number, together: number, formats: Told): string {
  const why =
    apart > together
      ? 'Together less is needed, because not all of them fail'
      : 'Together more is needed, because some of those for which mostly nothing is to be paid will fail'
  return (
    `What is enough for each by itself sums to ${formats.money(apart)}. ${why}; vehicles of one engine share how long ` +
    'its parts last, and that is counted.'
  )
}

/** What was paid for claims against what was to be expected, in sentences. */
export function claimsWords(claims: NonNullable<StockLot['claims']>, formats: Told): string[] {
  const { vehicles, expected, low, high, paid, unpriced, standing } = claims
  const sold = vehicles === 1 ? 'One sold vehicle is' : `${formats.count(vehicles)} sold vehicles are`
  const verdict = {
    less: 'That is less than the range: either luck, or the library is too dark, or claims are missing from the records.',
    within: 'That is within the range.',
    more: 'That is more than the range: either bad luck, or more goes wrong under cover than the library says.',
  }[standing]
  const repairs =
    claims.claims === 0
      ? 'No repair of them since was paid by the house.'
      : `${claims.claims === 1 ? 'One repair' : `${formats.count(claims.claims)} repairs`} of them since ` +
        `${claims.claims === 1 ? 'was' : 'were'} paid by the house: ${formats.money(paid)}.`
  return [
    `${sold} under cover. Since their sales ${formats.money(expected)} was to be expected (8 times in 10 between ` +
      `${formats.money(low)} and ${formats.money(high)}). ${repairs} ${verdict}`,
    ...(unpriced > 0
      ? [
          `${formats.count(unpriced)} of the repairs have neither parts nor hours on record, and count as nothing.`,
        ]
      : []),
  ]
}

/** What that comparison rests on. */
export const CLAIMS_REST_ON =
  'Expected by what was on record of each on the day of its sale, by the library and what is learned as they are now, ' +
  'for as far as it was driven since. Paid is parts and hours of repairs on weak points that the house paid, days off ' +
  'the road left out of both; a part that was replaced before it failed counts as paid, too.'

/** Where a vehicle stands: in the yard, or sold and under which cover. */
export function statusWords({ status, soldOn }: StockLine, formats: Told): string {
  if (status === 'stock') return 'in stock'
  return soldOn === null ? 'sold, under cover' : `sold ${formats.day(soldOn)}`
}

/** For which cover the amount is. */
export function coverOfWords({ coverDays, coverKm, coverOf }: StockLine, formats: Told): string | null {
  if (coverDays === null || coverOf === null) return null
  const whose = { vehicle: 'left of its cover', terms: 'its own terms', usual: 'the usual' }[coverOf]
  return `${whose}: ${coverWords({ days: coverDays, km: coverKm }, formats)}`
}

/** The range of an amount: what half stay within, and 19 of 20. */
export const rangeWords = ({ p50, p95 }: StockLine, formats: Told): string | null =>
  p50 === null || p95 === null
    ? null
    : `half within ${formats.money(p50)}, 19 of 20 within ${formats.money(p95)}`

/** The share of its value, and the house's own word for it; or what is missing for that. */
export function shareWords({ shareOfValue, grade, amount, value }: StockLine, formats: Told): string {
  if (shareOfValue !== null) return `${formats.share(shareOfValue)}${grade === null ? '' : `: ${grade}`}`
  return amount === null || value !== null ? '' : 'no value on record'
}
