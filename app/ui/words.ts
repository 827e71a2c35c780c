import type { Clock, Confidence, Sign, WeakPoint } from '@/lib/records/library'
import type { VehicleNumber } from '@/lib/records/settings'
import type { WatchlistRow } from '@/lib/store/read/watchlist'
import type { WatchlistColumn } from '@/lib/store/read/watchlist-query'
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
export const NOT_COVERED = 'brakes, steering and tyres are not'
export const NO_SUCH_ENGINE = 'The library does not know this engine.'

export const CAUTION =
  'Before any work, the maker’s instructions, local rules and a qualified technician come first. A chance is not a ' +
  'finding: look at the vehicle before a part is replaced.'

/** What the pages are called. */
export const PAGE_NAMES = {
  watchlist: 'Watchlist',
  intake: 'Bring in records',
  families: 'Engine families',
  settings: 'Settings',
}

/** The one thing to do from anywhere. */
export const NEW_VEHICLE = 'New vehicle'

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

/** Column headings, and what each says in one sentence. */
export const COLUMNS: Record<WatchlistColumn, { heading: string; meaning: string }> = {
  unit: { heading: 'Vehicle', meaning: 'The vehicle’s number, and its plate.' },
  advice: { heading: 'Advice', meaning: 'The most urgent advice for any of its weak points.' },
  weakPoint: {
    heading: 'Weak point',
    meaning: 'The one that leads: most urgent first, then likeliest to fail.',
  },
  chance: {
    heading: 'Chance',
    meaning: 'That it fails within the horizon if nothing is done: a dot in its 80 % band.',
  },
  speaks: { heading: 'What speaks for it', meaning: 'What in the records moves the chance most.' },
  waiting: { heading: 'Waiting', meaning: 'What leaving it until the next slot costs or saves.' },
  engine: { heading: 'Engine', meaning: 'The engine family.' },
  site: { heading: 'Site', meaning: 'Where the vehicle is, or whose it is.' },
  odometer: {
    heading: 'Odometer',
    meaning: 'The last trusted reading and its day, or the estimate for today.',
  },
  scan: { heading: 'Last scan', meaning: 'Days since a full scan; many faults light no lamp.' },
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

/** Where on the engine; nothing for a weak point with one position. */
export function placeWords(place: WatchlistRow['place'], position: number | null): string {
  return place === null || position === null ? '' : `${place} ${position}`
}

/** How sure the author of a statement is, and what that means for its figures. */
export const CONFIDENCE: Record<Confidence, { word: string; meaning: string }> = {
  hunch: { word: 'a hunch', meaning: 'a feeling; the true figure may well be half or twice as much' },
  experience: { word: 'experience', meaning: 'seen many times; right to within a half, four times in five' },
  documented: {
    word: 'documented',
    meaning: 'counted or published; right to within a sixth, four times in five',
  },
}

/** What a weak point ages by. */
export const CLOCKS: Record<Clock, string> = {
  distance: 'by distance',
  hours: 'by engine hours',
  time: 'by time',
}

/** What is due once it has failed. */
export const SEVERITIES: Record<WeakPoint['severity'], string> = {
  stop: 'do not drive',
  soon: 'mend it soon',
  plan: 'can be planned in',
}

export const HARM = 'can harm people'

/** How a sign is found. */
export const SIGN_KINDS: Record<Sign['kind'], string> = {
  code: 'read out as a trouble code',
  visual: 'seen by eye',
  road: 'noticed on the road',
  measure: 'measured',
}

export const DUTIES: Record<keyof WeakPoint['duty'], string> = {
  short: 'short trips',
  mixed: 'mixed use',
  long: 'long runs',
}

export const NO_CAUTIONS = 'None recorded here; follow the maker’s instructions.'

const SMALL_NUMBERS = 'no one two three four five six seven eight nine ten eleven twelve'.split(' ')

/** Small counts as words, others in figures. */
export function countWord(count: number, inFigures: (count: number) => string): string {
  return SMALL_NUMBERS[count] ?? inFigures(count)
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
