/** Decisions about simulated fleets, of which the truth is known: does acting on them keep the money that there is to keep? */
import { beforeAll, describe, expect, it } from 'vitest'
import { chooseBundle } from '@/lib/decisions/bundle'
import { bundleCandidates } from '@/lib/decisions/bundle-candidates'
import { jobCost, pricesOf } from '@/lib/decisions/costs'
import { planJobs } from '@/lib/decisions/plan-jobs'
import { checkPlanRequest, type PlanJob } from '@/lib/decisions/plan-request'
import { loadSolver, planVisits } from '@/lib/decisions/plan-visits'
import { whatWasSeen } from '@/lib/decisions/reasons'
import { VehicleScorer } from '@/lib/decisions/score-fleet'
import { ageReplacement } from '@/lib/model/age-replacement'
import type { Library } from '@/lib/records/library'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { fitFleet } from '@/lib/scoring/fit-fleet'
import { fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import { runs } from '../runs'
import { simulatedLibrary } from './libraries'
import { askOracle } from './oracle'
import { seeded } from './random'
import { parametersOfLife, truthDrawn } from './truth'
import { plainAdvance, stateOf } from './vehicle-life'
import { type Snapshot, simulateWorld } from './world'

const AS_OF = 20_000
const VISIT = 40

const plain = simulatedLibrary('dunlin', 'experience')
/** Unlike prices, so that there is something to rank. */
const library: Library = {
  ...plain,
  ...{ labourRate: 80, dayOffRoad: 120, visit: VISIT },
  families: plain.families.map((family) => ({
    ...family,
    weakPoints: family.weakPoints.map((each, i) => ({
      ...each,
      cost: { parts: 60 + 40 * i, hours: 1 + i / 4, sharedHours: 0, failureExtra: 900 - 80 * i, daysOff: 2 },
    })),
  })),
}
const prices = pricesOf(library, DEFAULT_SETTINGS)
const [family] = library.families
const truth = truthDrawn(family!, seeded(41))

type Case = { said: number; true: number }
const cases: Case[] = []
type Bundled = {
  developing: boolean
  age: number
  seen: string | null
  temporary: boolean
  weakPoint: string
}
const bundled: Bundled[] = []
const jobs: PlanJob[] = []

/** L(slot) − C_p of every part by an exact filter that knows the true parameters and the records alone. */
function trueCosts(snapshot: Snapshot, rows: Parameters<typeof askOracle>[0]['rows']): number[] {
  const { network, day, odometerKm, kmPerDay, duty } = snapshot
  const ahead = { km: kmPerDay * prices.slotDays, days: prices.slotDays }
  const [answers] = askOracle({ network, truth, rows, asOf: [{ day, odometerKm, ahead }] })
  return network.parts.map(({ weakPoint }, i) => {
    const { planned, unplanned } = jobCost(weakPoint, prices)
    const best = ageReplacement(parametersOfLife(truth, weakPoint.key, null), planned, unplanned)
    if (!best.ok) throw new Error(best.reason)
    const units = plainAdvance(weakPoint.clock, duty, ahead.km, ahead.days) * weakPoint.duty[duty]
    const { pFail } = answers![i]!
    return pFail * (unplanned - planned) - best.gStar * units * (1 - pFail / 2)
  })
}

beforeAll(() => {
  const world = simulateWorld({
    ...{ seed: 12, library, vehicles: runs(40), firstDay: 17_900, spreadDays: 900 },
    ...{ lastDay: AS_OF, snapshots: [AS_OF], truths: new Map([[family!.key, truth]]) },
  })
  const fleet = fleetVehicles(world.records, AS_OF)
  const fit = fitFleet({ fleet, library, asOf: AS_OF })
  const horizons = [{ days: 90 }]
  const scorer = new VehicleScorer({ library, settings: DEFAULT_SETTINGS, asOf: AS_OF, fit, horizons })
  const snapshots = new Map(world.snapshots.map((each) => [each.unit, each]))
  for (const one of fleet) {
    const { unit } = one.records.vehicle
    const snapshot = snapshots.get(unit)!
    const indexOf = (weakPoint: string, position: number) =>
      snapshot.network.parts.findIndex(
        (part) => part.weakPoint.key === weakPoint && (part.position ?? 1) === position,
      )
    const real = trueCosts(snapshot, one.records)
    for (const { weakPoint, position, costOfWaiting } of scorer.score(one).components)
      cases.push({ said: costOfWaiting, true: real[indexOf(weakPoint, position)]! })
    const ground = scorer.groundOf(one)!
    const indexOfBelief = (weakPoint: string, position: number) =>
      ground.vehicle.belief.plan.components.findIndex(
        (each) => each.weakPoint.key === weakPoint && each.position === position,
      )
    for (const { weakPoint, position } of chooseBundle(bundleCandidates(ground), prices)?.members ?? []) {
      const life = snapshot.lives[indexOf(weakPoint, position)]!
      const seen = whatWasSeen(ground.vehicle, indexOfBelief(weakPoint, position))
      const { revisions } = snapshot.network.parts[indexOf(weakPoint, position)]!.weakPoint
      const temporary = revisions.find(({ key }) => key === life.revision)?.temporary ?? false
      const developing = stateOf(life) !== 'sound'
      bundled.push({ developing, age: life.age, seen, temporary, weakPoint })
    }
    jobs.push(...planJobs(unit, ground, { weeks: 3 }))
  }
}, 600_000)

const ranks = (values: number[]): number[] => {
  const order = values.map((_, i) => i).sort((a, b) => values[a]! - values[b]!)
  const rank = new Array<number>(values.length)
  order.forEach((at, i) => {
    rank[at] = i
  })
  return rank
}

function rankCorrelation(a: number[], b: number[]): number {
  const [x, y] = [ranks(a), ranks(b)]
  const n = x.length
  const squares = x.reduce((sum, each, i) => sum + (each - y[i]!) ** 2, 0)
  return 1 - (6 * squares) / (n * (n * n - 1))
}

describe('acting on the cost of waiting', () => {
  it('ranks the parts of a fleet as the true parameters would', () => {
    const correlation = rankCorrelation(
      cases.map(({ said }) => said),
      cases.map((each) => each.true),
    )
    expect(correlation).toBeGreaterThanOrEqual(0.9)
  })

  it('keeps nine tenths of the money that its sign could keep', () => {
    const sum = (of: (each: Case) => boolean) =>
      cases.reduce((total, each) => (of(each) ? total + each.true : total), 0)
    const kept = sum(({ said }) => said > 0) / sum((each) => each.true > 0)
    expect(kept).toBeGreaterThanOrEqual(0.9)
  })

  it('never brings a new part into a bundle, unless a sign was seen that speaks against it', () => {
    expect(bundled.length).toBeGreaterThan(10)
    // A quick fix is no new part: it is to be replaced by one.
    const isNew = bundled.filter((each) => !each.developing && !each.temporary && each.age < 5_000)
    // Of one that a sign spoke against nobody can know that it is sound.
    expect(isNew.filter(({ seen }) => seen === null)).toEqual([])
    expect(isNew.length / bundled.length).toBeLessThan(0.05)
  })
})

/** The best that any plan gains, by trying all of them: no shared work, one bay. */
function bestOfAll(of: readonly PlanJob[], weeks: number, hoursAWeek: number): number {
  const units = [...new Set(of.map(({ unit }) => unit))]
  let best = 0
  const place = (u: number, left: number[], gain: number): void => {
    best = Math.max(best, gain)
    if (u === units.length) return
    place(u + 1, left, gain)
    const own = of.filter(({ unit }) => unit === units[u])
    for (let chosen = 1; chosen < 2 ** own.length; chosen++) {
      const some = own.filter((_, j) => chosen & (1 << j))
      const hours = some.reduce((sum, job) => sum + job.hours, 0)
      for (let week = 0; week < weeks; week++) {
        if (hours > left[week]! + 1e-9) continue
        const here = some.reduce((sum, job) => sum + job.gainByWeek[week]!, 0) - VISIT
        place(u + 1, left.with(week, left[week]! - hours), gain + here)
      }
    }
  }
  place(0, new Array<number>(weeks).fill(hoursAWeek), 0)
  return best
}

describe('the plan of a fleet’s jobs', () => {
  it('gains what the best of all plans gains, solved by trying them all', async () => {
    const solver = await loadSolver()
    const workable = jobs.filter(({ stop }) => !stop)
    const units = [...new Set(workable.map(({ unit }) => unit))]
    for (let group = 0; group < runs(3); group++) {
      const some = units.slice(5 * group, 5 * group + 5)
      if (some.length < 5) break
      const few = some.flatMap((unit) => workable.filter((job) => job.unit === unit).slice(0, 3))
      const request = { weeks: 3, hours: [[4, 4, 4]], visit: VISIT, labourRate: 80, jobs: few }
      const checked = checkPlanRequest(request)
      if (!checked.ok) throw new Error(JSON.stringify(checked.errors))
      const plan = planVisits(checked.value, { solver, effort: { rounds: 2_000, nodes: 2_000, seconds: 20 } })
      const best = bestOfAll(few, 3, 4)
      expect(plan.gain).toBeCloseTo(best, 4)
      expect(plan.bound).toBeGreaterThanOrEqual(best - 1e-6)
    }
  }, 300_000)
})
