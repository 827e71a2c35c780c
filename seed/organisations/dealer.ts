import { DEALER_NAME } from '../demo-names'
import { DUNLIN } from '../library/dunlin'
import { makeLibrary } from '../library/library'
import { PLOVER } from '../library/plover'
import { SISKIN } from '../library/siskin'
import type { Organisation } from '../organisation'
import { worthOn } from '../papers'
import type { Random } from '../random'
import type { Logbook } from '../rows'
import { FIRST_DAY, type Vehicle } from '../vehicle'
import type { Past, Stay } from '../vehicles'
import { DEALER_ENDINGS } from './dealer-endings'

const CURRENCY = 'CHF'
const PRICE_LEVEL = 1.15
const LABOUR_RATE = 96

/** A yard of used vehicles: most come without a past, are made ready, stand, and are sold with or without cover. */
export const DEALER: Organisation = {
  key: 'glasswort-and-thrift',
  name: DEALER_NAME,
  locale: 'en-CH',
  currency: CURRENCY,
  timeZone: 'Europe/Zurich',
  distance: 'km',
  vehicleNumber: 'stock',
  person: {
    name: 'Anso Velmandry',
    title: 'Stock manager',
    decides: 'What to put right before a vehicle is sold, and which of those under cover to call in first.',
  },
  watchLimit: 0.1,
  priceLevel: PRICE_LEVEL,
  library: makeLibrary(
    {
      name: 'Yard and cover',
      currency: CURRENCY,
      priceLevel: PRICE_LEVEL,
      labourRate: LABOUR_RATE,
      dayOffRoad: 60,
      visit: 30,
    },
    [PLOVER, DUNLIN, SISKIN],
  ),
  ways: {
    counts: { 'plover-16': 300, 'dunlin-20': 230, 'siskin-12': 290, 'bunting-14': 40 },
    unit: (i) => `S-${1001 + i}`,
    sites: ['Front row', 'Front row', 'Back row', 'Workshop row'],
    trackerShare: 0,
    use: 0.65,
    summerShare: 0,
    attention: [0.06, 0.2],
    oldInvoicesShare: 0.07,
    past: broughtIn,
    stay: soldOrNot,
    stands: inTheYard,
    habits: {
      firstSource: 'purchase',
      reading: { everyWeeks: 3, chance: 0.85, sources: ['yard list'], onceSold: 'customer message' },
      tellsOfLamp: 0.5,
      firstServiceDays: [2, 28],
      otherVisitsPerYear: 0.5,
      scansUnasked: 1,
      looksUnasked: 0.5,
      drivesAtService: true,
      putsOff: 0.25,
      putOffDays: [20, 60],
      returnsToCheck: 0.5,
      paidBy: 'own',
    },
  },
  papers: stockPapers,
  endings: DEALER_ENDINGS,
}

/** The business has grown: the later, the more vehicles a month. Some come nearly new, most with years behind them. */
const GROWTH = 2.5

function broughtIn(kmPerDay: number, turn: number, random: Random): Past {
  const firstDay = Math.min(-2, Math.round(FIRST_DAY * (1 - turn ** (1 / GROWTH))))
  const ageDays = random.chance(0.15) ? random.whole(150, 600) : random.whole(1000, 3900)
  const firstKm = Math.round(ageDays * kmPerDay * random.between(0.8, 1.2))
  return { origin: 'bought', inServiceOn: firstDay - ageDays, firstDay, firstKm }
}

const COVERS = [
  { days: 90, km: 5000 },
  { days: 90, km: 5000 },
  { days: 180, km: 10000 },
]

/** Most are sold within months. Half go with cover and stay in the records until it ends. */
function soldOrNot({ firstDay, firstKm }: Past, random: Random): Stay {
  const on = firstDay + 15 + Math.round(85 * random.exponential())
  const cover = random.pick(COVERS)
  const isCovered = random.chance(0.5)
  if (on > -2) return { leaves: null, lastDay: 0, sale: null }
  const coverUntil = isCovered ? on + cover.days : on
  const sale = { on, coverUntil, coverKm: firstKm + cover.km }
  return { leaves: 'sold', lastDay: Math.min(0, coverUntil), sale }
}

/** What is for sale is moved and tried, no more; but half of it takes turns to drive the staff home. */
function inTheYard({ firstDay }: Past, { sale }: Stay, random: Random): Vehicle['stands'] {
  return random.chance(0.5) ? null : { from: firstDay, until: sale?.on ?? 0, mostKm: 25 }
}

const NEARLY_NEW_DAYS = 700

function stockPapers(vehicle: Vehicle, { repairs }: Logbook, random: Random) {
  const { sale, firstDay, inServiceOn } = vehicle
  const nearlyNew = firstDay - inServiceOn < NEARLY_NEW_DAYS
  const prepared = repairs.filter((r) => r.done_on < firstDay + 30 && r.done_on <= (sale?.on ?? 0))
  const cost = prepared.reduce((a, r) => a + (r.parts_cost ?? 0) + (r.labour_hours ?? 0) * LABOUR_RATE, 140)
  const worth = worthOn(vehicle, firstDay)
  const covered = sale !== null && sale.coverUntil > sale.on
  return {
    status: sale ? ('sold' as const) : ('stock' as const),
    left_on: null,
    history: nearlyNew ? ('full' as const) : ('none' as const),
    acquired_on: firstDay,
    acquired_from: nearlyNew
      ? 'lease return'
      : random.pick(['auction', 'auction', 'part exchange', 'private']),
    purchase_price: Math.round((worth * random.between(0.7, 0.84)) / 50) * 50,
    prep_cost: Math.round(cost),
    asking_price: Math.round((worth * random.between(1.02, 1.12)) / 100) * 100 - 10,
    sold_on: sale?.on ?? null,
    cover_until_on: covered ? sale.coverUntil : null,
    cover_until_km: covered ? sale.coverKm : null,
  }
}
