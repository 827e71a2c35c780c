import { RURAL_FLEET_NAME } from '../demo-names'
import { DUNLIN } from '../library/dunlin'
import { KNOT } from '../library/knot'
import { makeLibrary } from '../library/library'
import { PLOVER } from '../library/plover'
import { SISKIN } from '../library/siskin'
import type { Organisation } from '../organisation'
import { worthOn } from '../papers'
import type { Random } from '../random'
import { FIRST_DAY } from '../vehicle'
import { mayHaveGone, mayStand, type Past } from '../vehicles'
import { RURAL_FLEET_ENDINGS } from './rural-fleet-endings'

const CURRENCY = 'EUR'
const PRICE_LEVEL = 1

/** Vans, cars and trucks that serve a moor: half of them with a tracker, all of them in one workshop's care. */
export const RURAL_FLEET: Organisation = {
  key: 'tussock-and-sedge',
  name: RURAL_FLEET_NAME,
  locale: 'en-IE',
  currency: CURRENCY,
  timeZone: 'Europe/Dublin',
  distance: 'km',
  vehicleNumber: 'vehicle',
  person: {
    name: 'Merla Thripwether',
    title: 'Fleet manager',
    decides: 'Which vehicles get the slots of this fortnight, and which can safely wait for the next.',
  },
  // With two dozen parts an engine, 0.05 would put every second vehicle under watch.
  watchLimit: 0.12,
  priceLevel: PRICE_LEVEL,
  library: makeLibrary(
    {
      name: 'Moorland fleet',
      currency: CURRENCY,
      priceLevel: PRICE_LEVEL,
      labourRate: 78,
      dayOffRoad: 180,
      visit: 45,
    },
    [PLOVER, DUNLIN, SISKIN, KNOT],
  ),
  ways: {
    counts: { 'plover-16': 130, 'dunlin-20': 158, 'siskin-12': 80, 'knot-82': 47, 'wheatear-30': 12 },
    unit: (i) => `V-${String(i + 1).padStart(3, '0')}`,
    sites: ['Tussock Yard', 'Bilberry Yard', 'Cottongrass Yard', 'Sundew Yard', 'Bogbean Yard'],
    trackerShare: 0.5,
    use: 1,
    summerShare: 0.12,
    attention: [0.04, 0.16],
    oldInvoicesShare: 0.06,
    past: newKeptOrBought,
    stay: mayHaveGone,
    stands: (_past, _stay, random) => mayStand(0.02, random),
    habits: {
      firstSource: 'handover',
      reading: { everyWeeks: 4, chance: 0.93, sources: ['fuel card', 'driver', 'driver'] },
      tellsOfLamp: 0.4,
      firstServiceDays: [60, 365],
      otherVisitsPerYear: 1.6,
      scansUnasked: 1,
      looksUnasked: 0.4,
      drivesAtService: false,
      putsOff: 0.06,
      putOffDays: [5, 18],
      returnsToCheck: 0.85,
      paidBy: 'own',
    },
  },
  papers: (vehicle) => ({
    acquired_on: vehicle.firstDay,
    acquired_from: { new: 'new', kept: 'taken over', bought: 'auction' }[vehicle.origin],
    purchase_price: worthOn(vehicle, vehicle.firstDay),
  }),
  endings: RURAL_FLEET_ENDINGS,
}

/** New in the six years, already there when the records begin, or bought second-hand on the way. */
function newKeptOrBought(kmPerDay: number, _turn: number, random: Random): Past {
  const dice = random.next()
  if (dice < 0.5) {
    const firstDay = -random.whole(120, -FIRST_DAY)
    return { origin: 'new', inServiceOn: firstDay, firstDay, firstKm: random.whole(4, 60) }
  }
  const kept = dice < 0.72
  const firstDay = kept ? FIRST_DAY : -random.whole(150, 1900)
  const ageDays = kept ? random.whole(200, 1100) : random.whole(700, 2200)
  const firstKm = Math.round(ageDays * kmPerDay * random.between(0.8, 1.2))
  return { origin: kept ? 'kept' : 'bought', inServiceOn: firstDay - ageDays, firstDay, firstKm }
}
