/** Learning on along a run of cut-offs gives what learning anew gives, and knows nothing of later records. */
import { describe, expect, it } from 'vitest'
import { RunLearner, runsOf, warningsOf } from '@/lib/replay/learning'
import { lookBack } from '@/lib/replay/look-back'
import { recordsAsOf } from '@/lib/replay/records-as-of'
import { cutOffsOf, type ReplayWork } from '@/lib/replay/replay'
import { saidOn } from '@/lib/replay/what-was-said'
import { simulatedLibrary } from '../simulation/libraries'
import { repairRow } from '../simulation/record-rows'
import { simulateWorld } from '../simulation/world'

const LAST_DAY = 19_600
const plan = { from: LAST_DAY - 330, to: LAST_DAY - 90, every: 30, days: 90 }
const library = simulatedLibrary('knot', 'experience')
const { records } = simulateWorld({
  seed: 8,
  library,
  vehicles: 30,
  firstDay: 17_900,
  spreadDays: 300,
  lastDay: LAST_DAY,
  snapshots: [],
})
const work: ReplayWork = { records, library, plan, learning: true }
const asked = { records, library, days: plan.days }
const learner = () => new RunLearner({ library, settings: records.settings, days: plan.days })

describe('runs of cut-offs', () => {
  it('are the same days, in their order', () => {
    expect(runsOf(plan).flat()).toEqual(cutOffsOf(plan))
    expect(runsOf(plan).map((run) => run.length)).toEqual([6, 3])
    expect(runsOf({ ...plan, to: plan.from - 1 })).toEqual([])
  })

  it('say within one percent of the log odds what learning anew on each day says', () => {
    const along = learner()
    for (const cutOff of runsOf(plan)[0]!.slice(0, 3)) {
      const [on, anew] = [along, learner()].map(({ scorer }) => saidOn(asked, cutOff, scorer))
      const logOdds = (p: number) => Math.log(p / (1 - p))
      const misses = on!.map((one, i) => {
        const [a, b] = [logOdds(one.chances.product), logOdds(anew![i]!.chances.product)]
        return Math.abs(a - b) / Math.max(Math.abs(b), 1)
      })
      expect(misses.length).toBeGreaterThan(300)
      expect(Math.max(...misses)).toBeLessThan(0.01)
    }
  })

  it('begin with a day that is learned from its own records alone', () => {
    const [first] = runsOf(plan)[1]!
    const inRun = lookBack(work)[6]!
    const alone = saidOn(asked, first!, learner().scorer)
    expect(inRun.map(({ chances }) => chances)).toEqual(
      alone.filter((one) => inRun.some((each) => samePart(each, one))).map(({ chances }) => chances),
    )
  })
})

it('what all records teach is learned from all of them, whenever they were written down', () => {
  const late = <Row>(rows: readonly Row[]) => rows.map((row) => ({ ...row, enteredOn: LAST_DAY + 9 }))
  const { checks, repairs } = records
  const typedLater = { ...records, checks: late(checks), repairs: late(repairs) }
  const warnings = warningsOf({ records, library }, null)
  expect(warningsOf({ records: typedLater, library }, null)).toEqual(warnings)
})

type Part = { unit: string; weakPoint: string; position: number }
const samePart = (a: Part, b: Part) =>
  a.unit === b.unit && a.weakPoint === b.weakPoint && a.position === b.position

describe('what was said on a day', () => {
  const short = { ...work, plan: { ...plan, to: plan.from + 30 } }
  const saidOf = (of: ReplayWork) => lookBack(of).map((each) => each.map(({ chances }) => chances))
  const plain = saidOf(short)
  const unit = records.vehicles[0]!.unit
  const failures = (enteredOn: number | null) =>
    [1, 2, 3, 4].map((position) =>
      repairRow({
        unit,
        doneOn: plan.from - 40,
        weakPoint: 'coil',
        positions: [position],
        action: 'renew',
        found: 'failed',
        enteredOn,
      }),
    )
  const withRepairs = (more: ReturnType<typeof failures>) => ({
    ...short,
    records: { ...records, repairs: [...records.repairs, ...more] },
  })

  it('is the same whatever was entered later, dated before or not, though it is learned on', () => {
    expect(saidOf(withRepairs(failures(plan.from + 31)))).toEqual(plain)
    const [first, second] = saidOf(withRepairs(failures(plan.from + 1)))
    expect(first).toEqual(plain[0])
    expect(second).not.toEqual(plain[1])
  })

  it('rests on a record that was withdrawn or corrected only later as it was then', () => {
    const former = { readings: [], codes: [], checks: [], changes: [] }
    const repairs = failures(null)
    const saidWith = (of: ReplayWork['records'], cutOff: number) =>
      saidOn({ ...asked, records: of }, cutOff, learner().scorer)
    const withdrawnOn = (endedOn: number) => ({
      ...records,
      former: { ...former, repairs: repairs.map((row) => ({ ...row, endedOn })) },
    })
    const counted = saidWith({ ...records, repairs: [...records.repairs, ...repairs] }, plan.from)
    expect(saidWith(withdrawnOn(plan.from + 1), plan.from)).toEqual(counted)
    expect(saidWith(withdrawnOn(plan.from), plan.from)).toEqual(saidWith(records, plan.from))
    expect(counted).not.toEqual(saidWith(records, plan.from))
    expect(recordsAsOf(withdrawnOn(plan.from), plan.from).repairs).toEqual(
      recordsAsOf(records, plan.from).repairs,
    )
  })
})
