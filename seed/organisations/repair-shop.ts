import { REPAIR_SHOP_NAME } from '../demo-names'
import { makeCustomer, makePlate } from '../invented-names'
import { DUNLIN } from '../library/dunlin'
import { makeLibrary } from '../library/library'
import { PLOVER } from '../library/plover'
import { SISKIN } from '../library/siskin'
import type { Organisation } from '../organisation'
import { makeRandom, type Random } from '../random'
import { FIRST_DAY } from '../vehicle'
import { mayHaveGone, mayStand, type Past } from '../vehicles'
import { REPAIR_SHOP_ENDINGS } from './repair-shop-endings'

const KEY = 'crowberry-and-ling'
const CURRENCY = 'GBP'
const PRICE_LEVEL = 0.88

/** A shop by the road: customers come once or twice a year, tell what they heard, and pay for what they agree to. */
export const REPAIR_SHOP: Organisation = {
  key: KEY,
  name: REPAIR_SHOP_NAME,
  locale: 'en-GB',
  currency: CURRENCY,
  timeZone: 'Europe/London',
  distance: 'mi',
  vehicleNumber: 'plate',
  person: {
    name: 'Bryn Oskumple',
    title: 'Service adviser',
    decides: 'Whom to telephone today, because a job now is honestly cheaper for them than waiting.',
  },
  watchLimit: 0.12,
  priceLevel: PRICE_LEVEL,
  library: makeLibrary(
    {
      name: 'Customers’ engines',
      currency: CURRENCY,
      priceLevel: PRICE_LEVEL,
      labourRate: 64,
      dayOffRoad: 40,
      visit: 20,
    },
    [SISKIN, PLOVER, DUNLIN],
  ),
  ways: {
    counts: { 'siskin-12': 110, 'plover-16': 98, 'dunlin-20': 58, 'pipit-10': 9 },
    unit: (i) => makePlate(101 + 3 * i, makeRandom(`${KEY}/plate/${i}`)),
    sites: [],
    trackerShare: 0,
    use: 0.6,
    summerShare: 0.03,
    attention: [0.005, 0.04],
    oldInvoicesShare: 0.06,
    past: cameOneDay,
    stay: mayHaveGone,
    stands: (_past, _stay, random) => mayStand(0.03, random),
    habits: {
      firstSource: 'first visit',
      reading: { everyWeeks: 52, chance: 0.9, sources: ['yearly test'] },
      tellsOfLamp: 0.1,
      firstServiceDays: [0, 6],
      otherVisitsPerYear: 0.5,
      scansUnasked: 0.6,
      looksUnasked: 0.3,
      drivesAtService: false,
      putsOff: 0.3,
      putOffDays: [60, 240],
      returnsToCheck: 0.15,
      paidBy: 'customer',
    },
  },
  papers: (vehicle, _book, random) => ({ plate: vehicle.unit, ...makeCustomer(random) }),
  endings: REPAIR_SHOP_ENDINGS,
}

/** A third have been coming from the beginning; one in six was bought new, the others came with a past. */
function cameOneDay(kmPerDay: number, _turn: number, random: Random): Past {
  const firstDay = random.chance(0.35) ? FIRST_DAY + random.whole(0, 360) : -random.whole(60, 1900)
  if (random.chance(0.16)) {
    return { origin: 'new', inServiceOn: firstDay, firstDay, firstKm: random.whole(4, 60) }
  }
  const ageDays = random.whole(400, 3000)
  const firstKm = Math.round(ageDays * kmPerDay * random.between(0.8, 1.2))
  return { origin: 'bought', inServiceOn: firstDay - ageDays, firstDay, firstKm }
}
