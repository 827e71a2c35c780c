import type { ChanceStep } from '@/lib/decisions/why-chance'
import type { VehicleNumber } from '@/lib/records/settings'
import type { WatchlistRow } from '@/lib/store/read/watchlist'
import {
  type Change,
  ODOMETER_OLD_DAYS,
  type WatchlistColumn,
  type WatchlistMark,
} from '@/lib/store/read/watchlist-query'
import type { Role } from '@/lib/store/role'
import type { Standing } from '@/lib/store/standing'

/**
 * The words that people read, each defined here and nowhere else. Code and data say `stop`, `weakPoint`, `standing`;
 * screens and paper say what stands here.
 */

export const ADVICE: Record<Standing, string> = {
  stop: 'do not drive',
  book: 'book in',
  check: 'have a look',
  watch: 'keep an eye on',
  fine: 'nothing due that we know of',
  'not-assessed': 'not assessed',
}

export const STOP_ORDERS = 'Engine off, do not restart, tow.'

/** Where the organisation's own address could not be told of a stop. */
export const NOT_DELIVERED =
  'Your other program was never reached with this, after three days of trying: see Settings.'

export const NOT_COVERED = 'brakes, steering and tyres are not'

export const NO_SUCH_ENGINE = 'The library does not know this engine.'

/** Why a vehicle is not assessed: what went wrong where something did, else its engine. */
export const whyNotAssessed = (failure: string | null): string =>
  failure === null ? NO_SUCH_ENGINE : `It ${failure}. Nothing is known of it until it is scored again.`

export const CAUTION =
  'Before any work, the maker’s instructions, local rules and a qualified technician come first. A chance is not a ' +
  'finding: look at the vehicle before a part is replaced.'

/** What a vehicle goes by: the organisation chooses. */
export const VEHICLE_NUMBER: Record<VehicleNumber, string> = {
  vehicle: 'vehicle no.',
  plate: 'plate',
  stock: 'stock no.',
}

export const DISTANCE_WORDS: Record<'km' | 'mi', string> = { km: 'kilometres', mi: 'miles' }

export const ROLE_WORDS: Record<Role, string> = {
  owner: 'owner: everything',
  planner: 'planner: records, plans, engine families',
  technician: 'technician: records at the vehicle',
  reader: 'reader: looks, changes nothing',
}

/** Column headings, and what each says in one sentence: what, in which unit, and how it comes about. */
export const COLUMNS: Record<WatchlistColumn, { heading: string; meaning: string }> = {
  unit: { heading: 'Vehicle', meaning: 'The vehicle’s number, and its plate, as they were entered.' },
  customer: { heading: 'Customer', meaning: 'Whose vehicle it is, as it was entered.' },
  contact: { heading: 'Contact', meaning: 'How to reach the customer, as it was entered.' },
  advice: {
    heading: 'Advice',
    meaning: 'The most urgent advice for any of its weak points, as of the day above.',
  },
  weakPoint: {
    heading: 'Weak point',
    meaning: 'The one that leads: most urgent first, then likeliest to fail.',
  },
  chance: {
    heading: 'Chance',
    meaning: 'That it fails within the horizon if nothing is done: a dot in its 80 % band, from the scores.',
  },
  speaks: { heading: 'What speaks for it', meaning: 'What in the records moves the chance most, in words.' },
  changed: {
    heading: 'What changed',
    meaning:
      'What was said on the day that you chose and is said otherwise now, from the scores that were kept.',
  },
  next: { heading: 'Next', meaning: 'What to do next, in words: it follows from the advice.' },
  waiting: {
    heading: 'Waiting',
    meaning:
      'What leaving it until the next slot costs or saves, in money: the risk less the use of the part’s life.',
  },
  combined: {
    heading: 'Any of them',
    meaning: 'The chance that any of the vehicle’s weak points fails within the horizon, as 1 in so many.',
  },
  engine: { heading: 'Engine', meaning: 'The engine family, as the library names it.' },
  site: { heading: 'Site', meaning: 'Where the vehicle is, or whose it is, as it was entered.' },
  status: { heading: 'Status', meaning: 'In use, in stock, or sold and under cover, as it was entered.' },
  history: { heading: 'History', meaning: 'Whether its records reach back to when it was new.' },
  value: { heading: 'Value', meaning: 'What the vehicle is worth today, in money, as it was entered.' },
  asking: { heading: 'Asking price', meaning: 'What it is offered for, in money, as it was entered.' },
  inStock: { heading: 'Days in stock', meaning: 'Days since it was bought, as it was entered.' },
  aside: {
    heading: 'Set aside',
    meaning:
      'What is enough for its cover in the share of cases set under Settings, in money, with its range.',
  },
  odometer: {
    heading: 'Odometer',
    meaning:
      'The last trusted reading and its day, or the estimate for today, in the unit of distance above.',
  },
  scan: {
    heading: 'Last scan',
    meaning: 'Days since a full scan, from the records; many faults light no lamp.',
  },
}

/** Beside a number that does not rest on the latest records yet. */
export const BEING_SCORED = 'being scored again'

/** The rows of the list. */
export const ROW_KINDS = { vehicle: 'a row a vehicle', 'weak-point': 'a row a weak point' }

/** What can be asked of a row with yes or no. */
export const MARKS: Record<WatchlistMark, string> = {
  'history-unknown': 'history not known',
  'never-looked-at': 'never looked at',
  'never-scanned': 'never had a full scan',
  'odometer-old': `odometer not read for ${ODOMETER_OLD_DAYS} days`,
  'worth-it-now': 'waiting costs more than the job now',
}

export const HISTORY: Record<'full' | 'none', string> = { full: 'known from new', none: 'not known' }

/** What may have become of a vehicle since a day. */
export const CHANGE_WORDS: Record<Change, { one: string; many: string; filter: string }> = {
  stop: {
    one: 'vehicle newly must not be driven',
    many: 'vehicles newly must not be driven',
    filter: 'newly not to be driven',
  },
  advice: {
    one: 'has a weak point under another advice',
    many: 'have a weak point under another advice',
    filter: 'another advice',
  },
  risen: {
    one: 'has a chance that rose by half or more',
    many: 'have a chance that rose by half or more',
    filter: 'chance rose by half or more',
  },
}

export const SINCE_WORDS = { yesterday: 'yesterday', week: 'a week ago', month: 'a month ago' }

/** The views that are there from the start, and whom each is for. */
export const READY_VIEWS = {
  slots: { name: 'Slots', meaning: 'what to give the next slots to: most costly to leave first' },
  stock: { name: 'Stock', meaning: 'what stands for sale: most to set aside first, beside days and price' },
  calls: { name: 'Calls', meaning: 'customers for whom the job now costs less than waiting' },
}

/** Column headings of a vehicle's weak points. */
export const COMPONENT_COLUMNS = {
  weakPoint: 'Weak point',
  advice: 'Advice',
  chance: 'Chance within',
  going: 'Going already',
  remaining: 'Half last longer than',
  waiting: 'Waiting',
  speaks: 'What speaks for it',
}

/** The steps from the library to a vehicle's own chance. */
export const CHANCE_STEPS: Record<ChanceStep, string> = {
  library: 'What the library says of such a vehicle',
  learned: 'What was learned from your own records',
  ages: 'How this vehicle was used',
  repairs: 'The work on record',
  signs: 'What was seen and looked for',
}

/** Where on the engine; nothing for a weak point with one position. */
export function placeWords(place: WatchlistRow['place'], position: number | null): string {
  return place === null || position === null ? '' : `${place} ${position}`
}

type Advised = { standing: Standing; weakPoint: string | null; speaks: string | null }

/** What follows from an advice: the next thing to do. */
export function nextWords({ standing, weakPoint, speaks }: Advised): string {
  const part = weakPoint?.toLowerCase() ?? 'it'
  const words: Record<Standing, string> = {
    stop: STOP_ORDERS,
    book: `Book it in: ${part}.`,
    check: `Look at the ${part} at the next chance.`,
    watch: 'Look again when it is next in.',
    fine: 'Nothing, until something new is recorded.',
    'not-assessed':
      speaks === null
        ? 'State its engine in the library.'
        : 'Look its records over; a change to them has it scored again.',
  }
  return words[standing]
}

const SMALL_NUMBERS = 'no one two three four five six seven eight nine ten eleven twelve'.split(' ')

/** Small counts as words, others in figures. */
export function countWord(count: number, inFigures: (count: number) => string): string {
  return SMALL_NUMBERS[count] ?? inFigures(count)
}

/** The 80 % band of an amount, to stand behind it; nothing where both ends are the same in these words. */
export function betweenAmounts(
  { low, high }: { low: number; high: number },
  words: (amount: number) => string,
) {
  if (words(low) === words(high)) return ''
  return low > 0 ? ` (between ${words(low)} and ${words(high)})` : ` (from nothing to ${words(high)})`
}

/** The time from one chance of a slot to the next. */
export function slotWords(days: number): string {
  if (days % 7 !== 0) return days === 1 ? 'a day' : `${days} days`
  return days === 7 ? 'a week' : `${countWord(days / 7, String)} weeks`
}

export function horizonWords(days: number): string {
  if (days === 365) return '1 year'
  return days % 30 === 0 && days > 90 ? `${days / 30} months` : `${days} days`
}

export function daysAgo(days: number, inFigures: (count: number) => string): string {
  if (days === 0) return 'today'
  return days === 1 ? 'yesterday' : `${inFigures(days)} days ago`
}
