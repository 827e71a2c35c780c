import type { SaleJob } from '@/lib/decisions/before-sale'
import type { BeforeSale } from '@/lib/jobs/before-sale'
import { readTypedNumber } from '@/lib/records/typed-number'
import type { Formats } from '../../../../ui/formats'
import { placeWords } from '../../../../ui/words'

type Told = Pick<Formats, 'money' | 'count'>

const MOST_MONEY = 1_000_000_000

/** What a job adds to the price when it is told, as typed into the address; nothing where it cannot be read. */
export function addedTyped(typed: string | string[] | undefined): number {
  const read = readTypedNumber([typed ?? ''].flat()[0] ?? '')
  return read !== null && read >= 0 && read <= MOST_MONEY ? read : 0
}

/** The name under which it stands in the address. */
export const addedName = ({ weakPoint, positions }: SaleJob) => `adds-${weakPoint}-${positions.join('-')}`

export type SaleLine = { job: SaleJob; added: number; gain: number; low: number; high: number }

/** Each job with what it adds to the price; the best first. */
export function saleLines(
  jobs: readonly SaleJob[],
  typed: Record<string, string | string[] | undefined>,
): SaleLine[] {
  const lines = jobs.map((job) => {
    const added = addedTyped(typed[addedName(job)])
    const { gain, gainBand } = job
    return { job, added, gain: gain + added, low: gainBand.low + added, high: gainBand.high + added }
  })
  return lines.sort((a, b) => b.gain - a.gain)
}

export function jobWords({ name, place, positions }: SaleJob): string {
  const at = positions.map((position) => placeWords(place, position)).filter(Boolean)
  return at.length === 0 ? name : `${name}, ${at.join(', ')}`
}

/** Which job to do, in a sentence; or that none pays. */
export function findingWords(
  lines: readonly SaleLine[],
  { first }: Pick<BeforeSale, 'first'>,
  formats: Told,
): string {
  const [best] = lines
  const after = first === null ? '' : ' beside the job that must be done in any case'
  if (!best) return `No job makes its cover cheaper to speak of${after}.`
  if (best.gain <= 0) return `No job pays for itself${after}: each costs more than it takes off the cover.`
  const sure = best.low > 0 ? '' : ', though it may also not pay'
  return (
    `${jobWords(best.job)} pays best${after}: it raises the expected margin by ${formats.money(best.gain)} ` +
    `(8 times in 10 between ${formats.money(best.low)} and ${formats.money(best.high)})${sure}.`
  )
}

/** The parts of which nothing can be said. */
export const unpricedWords = ({ unpriced }: Pick<BeforeSale, 'unpriced'>): string | null =>
  unpriced.length === 0
    ? null
    : `Without a price in the library, so nothing is said of them: ${unpriced.map((name) => name.toLowerCase()).join(', ')}.`
