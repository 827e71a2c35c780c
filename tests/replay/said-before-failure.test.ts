/** What would have been said of a part before it failed: worked out from what stood on record, and nothing later. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ADVICE } from '@/lib/decisions/advice'
import { scoreFleet } from '@/lib/decisions/score-fleet'
import type { Records } from '@/lib/records/rows'
import { cameTrue } from '@/lib/replay/came-true'
import { FORECASTERS } from '@/lib/replay/judge'
import { lookBack } from '@/lib/replay/look-back'
import { recordsAsOf } from '@/lib/replay/records-as-of'
import { judgeAll } from '@/lib/replay/replay'
import { daysBefore, fewest, type SaidScore, whereMoved, workedOutOn } from '@/lib/replay/said-before-failure'
import { chanceClasses } from '@/lib/replay/track-report'
import { runs } from '../runs'
import { simulatedLibrary } from '../simulation/libraries'
import { checkRow, readingRow, repairRow } from '../simulation/record-rows'
import { simulateWorld } from '../simulation/world'

const LAST_DAY = 19_600
const library = simulatedLibrary('knot', 'experience')
const { records } = simulateWorld({
  seed: 5,
  library,
  vehicles: 24,
  firstDay: 17_900,
  spreadDays: 300,
  lastDay: LAST_DAY,
  snapshots: [],
})
const failure = records.repairs.findLast(({ found, doneOn }) => found === 'failed' && doneOn < LAST_DAY - 30)!
const { unit, weakPoint, doneOn } = failure
const position = failure.positions[0]!
const asked = { records, library, unit, weakPoint, position, days: 90 }
const work = {
  records,
  library,
  plan: { from: LAST_DAY - 210, to: LAST_DAY - 90, every: 30, days: 90 },
  learning: false,
}
const replay = judgeAll(work, lookBack(work))

describe('a chance that is worked out', () => {
  it('is what the fleet’s scores of that day say, each month of the year before', () => {
    const days = daysBefore(doneOn)
    expect([days.length, days.at(-1)! - days[0]!, days.at(-1)]).toEqual([13, 360, doneOn - 1])
    for (const asOf of days.filter((_, i) => i % 4 === 0)) {
      const scores = scoreFleet({
        records: recordsAsOf(records, asOf),
        library,
        asOf,
        horizons: [{ days: 90 }],
      })
      const own = scores.vehicles
        .find((each) => each.unit === unit)
        ?.components.find((each) => each.weakPoint === weakPoint && each.position === position)
      const said = workedOutOn(asked, asOf)
      expect(said && [said.pFail, said.pLow, said.pHigh, said.advice]).toEqual(
        own && [own.pFail, own.pLow, own.pHigh, own.advice],
      )
    }
  })

  it('knows nothing that is dated or was entered later', () => {
    const asOf = doneOn - 31
    const said = workedOutOn(asked, asOf)
    const rows = (on: number, enteredOn: number | null): Partial<Records> => ({
      readings: [readingRow({ unit, readOn: on, odometerKm: 900_000, enteredOn })],
      checks: [checkRow({ unit, checkedOn: on, kind: 'scan', enteredOn })],
      repairs: [repairRow({ unit, doneOn: on, weakPoint, positions: [position], enteredOn })],
    })
    const planted = (more: Partial<Records>): Records => ({
      ...records,
      readings: [...records.readings, ...(more.readings ?? [])],
      checks: [...records.checks, ...(more.checks ?? [])],
      repairs: [...records.repairs, ...(more.repairs ?? [])],
    })
    const with_ = (more: Partial<Records>) => workedOutOn({ ...asked, records: planted(more) }, asOf)
    expect(with_(rows(asOf + 1, null))).toEqual(said)
    expect(with_(rows(asOf - 5, asOf + 1))).toEqual(said)
    expect(with_({ repairs: rows(asOf - 5, asOf).repairs! })?.pFail).not.toBe(said?.pFail)
  })

  it('is none of a vehicle that was not there', () => {
    expect(workedOutOn(asked, 17_000)).toBeNull()
    expect(workedOutOn({ ...asked, unit: 'no such' }, doneOn - 1)).toBeNull()
  })
})

const score = fc.record({
  pFail: fc.double({ min: 1e-6, max: 1, noNaN: true }),
  advice: fc.constantFrom(...ADVICE),
})
const scores = fc
  .array(score, { maxLength: 30 })
  .map((all) => all.map((each, i): SaidScore => ({ ...each, asOf: i, pLow: 0, pHigh: 1 })))

describe('of many days', () => {
  it('those are told where advice or chance has moved since the last one told, and the last', () => {
    fc.assert(
      fc.property(scores, (all) => {
        const told = whereMoved(all)
        expect(told[0]).toBe(all[0])
        expect(told.at(-1)).toBe(all.at(-1))
        for (const each of all.filter((one) => !told.includes(one))) {
          const before = told.findLast(({ asOf }) => asOf < each.asOf)!
          expect(each.advice).toBe(before.advice)
          expect(Math.max(each.pFail / before.pFail, before.pFail / each.pFail)).toBeLessThan(1.1)
        }
      }),
      { numRuns: runs(200) },
    )
  })

  it('a few are left: first, last and each change of advice before mere leaps of the chance', () => {
    fc.assert(
      fc.property(scores, fc.integer({ min: 2, max: 12 }), (all, most) => {
        const left = fewest(all, most)
        expect(left).toHaveLength(Math.min(most, all.length))
        expect(left.map(({ asOf }) => asOf)).toEqual(left.map(({ asOf }) => asOf).toSorted((a, b) => a - b))
        expect([left[0], left.at(-1)]).toEqual([all[0], all.at(-1)])
        const isChange = ({ asOf }: SaidScore) =>
          asOf > 0 && asOf < all.length - 1 && all[asOf - 1]!.advice !== all[asOf]!.advice
        const changes = all.filter(isChange)
        if (changes.length + 2 <= most) expect(left).toEqual(expect.arrayContaining(changes))
        else expect(left.slice(1, -1).every(isChange)).toBe(true)
      }),
      { numRuns: runs(200) },
    )
  })
})

describe('how often such chances came true', () => {
  it('is told by the class of the track record that the chance lies in', () => {
    for (const forecaster of FORECASTERS)
      for (const one of chanceClasses(replay, forecaster))
        for (const chance of [one.from, one.said, one.to - 1e-9])
          expect(cameTrue(replay, chance, forecaster)).toMatchObject({ count: one.count, came: one.came })
    expect(chanceClasses(replay, 'product').length).toBeGreaterThan(2)
  })

  it('is not known of chances that too few were given', () => {
    const { bins } = replay.overall.judgements.product
    const few = bins.filter(({ count }) => count < 20)
    expect(few.length).toBeGreaterThan(0)
    for (const { from } of few) expect(cameTrue(replay, from, 'product')).toBeNull()
  })
})
