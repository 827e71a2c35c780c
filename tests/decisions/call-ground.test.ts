/** What a call rests on: the customer's prices, three months, whether somebody looked, how surely all is still good. */
import { describe, expect, it } from 'vitest'
import type { AdviceGround } from '@/lib/decisions/advice'
import { callGround, chanceAllGood, chanceAny } from '@/lib/decisions/call-ground'
import { customerPrices, jobCost, longRunRates, pricesOf } from '@/lib/decisions/costs'
import { mayWait } from '@/lib/decisions/may-wait'
import { worthACall } from '@/lib/decisions/worth-a-call'
import { DEFAULT_SETTINGS, type Settings } from '@/lib/records/settings'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import {
  at,
  engine,
  followOne,
  type History,
  looked,
  opened,
  point,
  recordsAt,
  repaired,
  sign,
} from '../scoring/one-vehicle'

const KM = 150_000
const COST = { parts: 180, hours: 1.5, failureExtra: 900, daysOff: 2 }
const LIBRARY = engine(
  [
    point('pump', 90_000, 180_000, 8_000, { cost: COST }),
    point('hose', 90_000, 180_000, 8_000, { cost: COST }),
    point('belt', 90_000, 180_000, 8_000, { cost: COST, renewEvery: 60_000 }),
  ],
  [sign('whine', 'road', { pump: 0.8, hose: 0.8 })],
)

function groundOf(history: History, settings: Settings = DEFAULT_SETTINGS, library = LIBRARY) {
  const one = followOne(library, KM, history)
  const prices = customerPrices(library, settings)
  const ground: AdviceGround = {
    ...{ vehicle: one.followed, clock: one.clock, parameters: one.parameters },
    ...{ prices, settings, rates: longRunRates(prices) },
  }
  const [records] = groupByVehicle(recordsAt(KM, history))
  return { ground, records: records!, call: callGround(ground, records!) }
}

const renewed = (weakPoint: string): History[number] => [KM - 20_000, repaired(weakPoint)]
const FRESH = [renewed('hose'), renewed('belt')]
const WHINES: History = [renewed('hose'), renewed('belt'), [KM - 300, looked('road', at('whine'))]]
const jobOf = (call: ReturnType<typeof callGround>, weakPoint: string) =>
  call.candidates.find((each) => each.weakPoint === weakPoint)!

describe('the prices of a call', () => {
  it('are the organisation’s own where nothing is said of customers, and theirs where it is', () => {
    expect(customerPrices(LIBRARY, DEFAULT_SETTINGS)).toEqual({
      ...pricesOf(LIBRARY, DEFAULT_SETTINGS),
      partsFactor: 1,
    })
    const settings = {
      ...DEFAULT_SETTINGS,
      ...{ customerLabourRate: 100, customerDayOffRoad: 40, customerVisit: 25, customerPartsFactor: 1.5 },
    }
    const prices = customerPrices(LIBRARY, settings)
    expect(prices).toMatchObject({ labourRate: 100, dayOffRoad: 40, visit: 25 })
    const pump = LIBRARY.families[0]!.weakPoints[0]!
    expect(jobCost(pump, prices)).toEqual({
      planned: 1.5 * 180 + 150,
      unplanned: 1.5 * 180 + 150 + 900 + 2 * 40,
    })
    expect(jobCost(pump, pricesOf(LIBRARY, settings)).planned).toBe(180 + 1.5 * 80)
  })

  it('change what a job saves: dear work and cheap days off make waiting cheaper', () => {
    const dear = { ...DEFAULT_SETTINGS, customerPartsFactor: 3, customerDayOffRoad: 0 }
    const [own, theirs] = [groundOf(WHINES), groundOf(WHINES, dear)]
    expect(jobOf(theirs.call, 'pump').gain).toBeLessThan(jobOf(own.call, 'pump').gain)
  })
})

describe('a job of a call', () => {
  it('is held against three months, more than against a fortnight, and surely due where it is known to be going', () => {
    const { call, ground } = groundOf([...FRESH, [KM - 300, opened('pump', 'developing')]])
    const pump = jobOf(call, 'pump')
    expect(pump).toMatchObject({ due: true, sure: true })
    expect(pump.chance.pFail).toBeGreaterThan(0.3)
    // Fails within the days times what failing costs more, less the use of the life: never more than the first.
    const most = pump.chance.pFail * (pump.costs.unplanned - pump.costs.planned)
    expect(pump.gain).toBeGreaterThan(0.7 * most)
    expect(pump.gain).toBeLessThan(1.05 * most)
    expect(pump.gainBand.low).toBeLessThanOrEqual(pump.gain)
    expect(worthACall({ ...facts(ground.prices.labourRate), ...call }).kind).toBe('write')
  })

  const facts = (labourRate: number) => ({
    ...{ assessed: true, labourRate, proposals: [], customer: 'Ann', optedOutOn: null, writtenOn: null },
    ...{ lastRecordOn: 20_400, today: 20_401, letterEveryDays: 90, quietMonths: 15 },
  })

  it('was looked at where a look would have shown its sign or did, a code was read, or it was opened; and lately', () => {
    const on = (history: History) => jobOf(groundOf(history).call, 'belt')?.lookedOn
    const withSign = engine(LIBRARY.families[0]!.weakPoints, [
      sign('squeal', 'road', { belt: 0.5 }),
      sign('slip', 'code', { belt: 0.5 }, { codes: ['P0016'] }),
    ])
    const belt = (...history: History) => jobOf(groundOf(history, DEFAULT_SETTINGS, withSign).call, 'belt')
    expect(on([])).toBeNull()
    expect(belt().lookedOn).toBeNull()
    expect(belt([KM - 600, looked('road')]).lookedOn).not.toBeNull()
    expect(belt([KM - 600, { code: { code: 'P0016' } }]).lookedOn).not.toBeNull()
    expect(belt([KM - 600, opened('belt', 'sound')]).lookedOn).not.toBeNull()
    // What the customer tells, a look that finds other signs, and one of years ago are none.
    expect(belt([KM - 600, looked('report', at('squeal'))]).lookedOn).toBeNull()
    expect(belt([KM - 600, looked('measure')]).lookedOn).toBeNull()
    expect(belt([KM - 60 * 400, looked('road')]).lookedOn).toBeNull()
  })

  it('is no hunch where its stated interval has run out, unless that is a hunch itself', () => {
    expect(jobOf(groundOf([]).call, 'belt').intervalOut).toBe(true)
    const [, , belt] = LIBRARY.families[0]!.weakPoints
    const hunch = engine([{ ...belt, confidence: 'hunch' }])
    expect(jobOf(groundOf([], DEFAULT_SETTINGS, hunch).call, 'belt').intervalOut).toBe(false)
  })

  it('is a telephone call where a part has failed', () => {
    expect(groundOf([...FRESH, [KM - 100, opened('pump', 'failed')]]).call.telephone).toBe('failed')
  })
})

describe('the chance that the money is spent for nothing', () => {
  it('knows that one sign speaks for one of two parts: both good is less likely than if they were apart', () => {
    const { call } = groundOf([renewed('belt'), [KM - 300, looked('road', at('whine'))]])
    const [pump, hose] = [jobOf(call, 'pump'), jobOf(call, 'hose')]
    const both = chanceAllGood(call, [pump, hose])
    expect(both).toBeLessThan(chanceAllGood(call, [pump]) * chanceAllGood(call, [hose]) - 0.05)
    // By the definition: the whine has a cause among them, or shows without one.
    expect(both).toBeGreaterThan(0)
    expect(chanceAllGood(call, [pump])).toBeLessThan(1)
  })

  it('is that of the part alone for one, and nought where it was seen going', () => {
    const { call, ground } = groundOf([...FRESH, [KM - 300, opened('pump', 'developing')]])
    expect(chanceAllGood(call, [jobOf(call, 'pump')])).toBeCloseTo(0, 6)
    const one = groundOf(WHINES)
    const index = one.ground.vehicle.belief.plan.components.findIndex((each) => each.weakPoint.key === 'pump')
    expect(chanceAllGood(one.call, [jobOf(one.call, 'pump')])).toBeCloseTo(
      1 - one.ground.vehicle.belief.developing(index),
      6,
    )
    expect(ground.vehicle.belief.developing(index)).toBeGreaterThan(0.999)
  })
})

it('any of several parts fails: by the chances of each, and its band by both ends', () => {
  const part = (pFail: number, pLow: number, pHigh: number) => ({ chance: { pFail, pLow, pHigh } })
  const any = chanceAny([part(0.5, 0.1, 0.9), part(0.2, 0, 0.5)])
  expect([any.pFail, any.pLow, any.pHigh]).toEqual([0.6, 0.1, 0.95].map((each) => expect.closeTo(each, 9)))
})

it('what is not done now waits until its own best moment; what is told elsewhere is left out', () => {
  const { ground } = groundOf([])
  const waits = mayWait(ground, (weakPoint) => weakPoint === 'belt')
  expect(waits.map(({ weakPoint }) => weakPoint).sort()).toEqual(['hose', 'pump'])
  for (const { bestInDays, chance } of waits) {
    expect(bestInDays === null || bestInDays >= ground.prices.slotDays).toBe(true)
    expect(chance.pLow).toBeLessThanOrEqual(chance.pFail)
  }
  expect(mayWait(ground, () => true)).toEqual([])
})
