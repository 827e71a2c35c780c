import { expect, test, vi } from 'vitest'
import { effectsOn, latelyRecorded, withoutEachRecord } from '@/lib/decisions/why-chance'
import { enterRecords } from '@/lib/jobs/enter-records'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { refitWhenDue } from '@/lib/jobs/refit'
import {
  type Explained,
  readToExplain,
  recordEffects,
  type WhyChance,
  whyChance,
} from '@/lib/jobs/why-chance'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readVehicleRecords } from '@/lib/store/read/vehicle-records'
import { withOrganisation } from '@/lib/store/with-organisation'
import { askRefit } from '@/lib/store/write/ask-refit'
import { putLibrary } from '@/lib/store/write/put-library'
import { withdrawRecord } from '@/lib/store/write/withdraw-record'
import { testDatabase } from '../store/test-database'
import { demoFleet, NOW, TODAY, withLibrary } from './demo-fleet'
import { type StoredScore, storedScores } from './stored-scores'

const { database } = await testDatabase()
const fleet = demoFleet(8)
const PATIENCE_MS = 300_000
const entry = { now: NOW, by: null }

async function scoredFleet(name: string): Promise<OrganisationId> {
  const organisation = await withLibrary(database, name, fleet)
  await enterRecords(database, organisation, fleet.records, entry)
  await freshenScores(database, organisation, NOW)
  return organisation
}

async function explained(organisation: OrganisationId, unit: string) {
  const found = await withOrganisation(database, organisation, (scope) => readToExplain(scope, unit, NOW))
  if (!found) throw new Error(`${unit} is not scored`)
  return found
}

/** A few of the vehicles: each of their components is explained, and every one goes through the whole vehicle. */
const SOME = new Set(fleet.records.vehicles.filter((_, n) => n % 4 === 0).map(({ unit }) => unit))

/** Holds the steps of their components to the stored scores. @returns the weak points that something was learned of */
async function expectSteps(organisation: OrganisationId): Promise<Set<string>> {
  const learned = new Set<string>()
  const stored = await storedScores(database, organisation)
  const some = [...stored.values()].filter(({ unit, horizonDays }) => SOME.has(unit) && horizonDays === 90)
  expect(some.length).toBeGreaterThan(30)
  for (const score of some) {
    const why = whyChance(await explained(organisation, score.unit), score)
    if (!why) throw new Error(`${score.unit} ${score.weakPoint} is not explained`)
    expect(why.steps.at(-1)?.chance).toBe(score.pFail)
    const sum = why.steps.reduce((a, { change }) => a + change, 0)
    expect(Math.abs(sum - Number(score.pFail))).toBeLessThan(1e-12)
    if (why.learned) learned.add(score.weakPoint)
    if (!organisationLearned(why.steps)) expect(why.learned).toBeNull()
  }
  return learned
}

const organisationLearned = (steps: { step: string; change: number }[]) =>
  steps.some(({ step, change }) => step === 'learned' && change !== 0)

test(
  'the steps end with the score that is stored, to the last digit, before something was learned and after',
  async () => {
    const organisation = await scoredFleet('steps')
    expect(await expectSteps(organisation)).toEqual(new Set())
    await withOrganisation(
      database,
      organisation,
      (scope) => askRefit(scope, { by: null, now: NOW }),
      'write',
    )
    await refitWhenDue(database, organisation, () => NOW)
    await freshenScores(database, organisation, NOW)
    expect((await expectSteps(organisation)).size).toBeGreaterThan(3)
  },
  PATIENCE_MS,
)

test(
  'what a record does is what withdrawing it does to the stored score',
  async () => {
    const organisation = await scoredFleet('without')
    const unit = mostLooked()
    const before = await storedScores(database, organisation)
    const vehicle = await explained(organisation, unit)
    const [score] = [...before.values()]
      .filter((each) => each.unit === unit && each.horizonDays === 90)
      .sort((a, b) => Number(b.pFail) - Number(a.pFail)) as [StoredScore]
    const why = whyChance(vehicle, score)!
    const effects = await recordEffects(vehicle, why)
    expect(effects!.telling.length).toBeGreaterThan(0)
    expect(effects!.telling.length + effects!.silent).toBe(why.records)
    expect(why.records).toBe(latelyRecorded(vehicle.vehicle.records, TODAY).length)

    const sizes = effects!.telling.map(({ change }) => Math.abs(change))
    expect(sizes).toEqual(sizes.toSorted((a, b) => b - a))
    const [greatest] = effects!.telling
    const records = await withOrganisation(database, organisation, (scope) => readVehicleRecords(scope, unit))
    const same = records.find(
      ({ kind, row }) =>
        kind === greatest!.record.kind && JSON.stringify(row) === JSON.stringify(greatest!.record.row),
    )
    const { kind, id } = same!
    await withOrganisation(
      database,
      organisation,
      (scope) => withdrawRecord(scope, { kind, id, ...entry }),
      'write',
    )
    await freshenScores(database, organisation, NOW)
    const after = await storedScores(database, organisation)
    const key = [...before].find(([, each]) => each === score)![0]
    expect(after.get(key)?.pFail).toBe(greatest!.chance)
  },
  PATIENCE_MS,
)

/** What every record does, found without keeping anything. */
function foundAnew({ vehicle, scorer }: Explained, { index, horizonDays, steps }: WhyChance) {
  const without = [...withoutEachRecord(vehicle, { days: horizonDays }, scorer.scorers.inForce)]
  return effectsOn(index, steps.at(-1)!.chance, without)
}

test(
  'what each record does is found once, for all weak points, and anew after any change that it would show',
  async () => {
    const organisation = await scoredFleet('kept')
    const unit = byLooks()[Math.floor(fleet.records.vehicles.length / 2)]!
    const asked = { weakPoint: '', position: 1, horizonDays: 90 }
    const ask = async (weakPoint: string, horizonDays = 90) => {
      const vehicle = await explained(organisation, unit)
      const follow = vi.spyOn(vehicle.scorer.scorers.inForce, 'follow')
      const why = whyChance(vehicle, { ...asked, weakPoint, horizonDays })!
      follow.mockClear()
      const effects = await recordEffects(vehicle, why)
      const followed = follow.mock.calls.length
      follow.mockRestore()
      expect(effects).toEqual(foundAnew(vehicle, why))
      return { effects, followed }
    }
    const scores = [...(await storedScores(database, organisation)).values()]
    const points = new Set(
      scores.filter((score) => score.unit === unit && score.position === 1).map(({ weakPoint }) => weakPoint),
    )
    const [first, second] = [...points] as [string, string]

    expect((await ask(first)).followed).toBeGreaterThan(0)
    expect((await ask(first)).followed).toBe(0)
    expect((await ask(second)).followed).toBe(0)
    expect((await ask(first, 365)).followed).toBeGreaterThan(0)

    const before = await ask(first)
    const { record } = before.effects!.telling[0]!
    const records = await withOrganisation(database, organisation, (scope) => readVehicleRecords(scope, unit))
    const { kind, id } = records.find((each) => JSON.stringify(each.row) === JSON.stringify(record.row))!
    await withOrganisation(
      database,
      organisation,
      (scope) => withdrawRecord(scope, { kind, id, ...entry }),
      'write',
    )
    const withdrawn = await ask(first)
    expect(withdrawn.followed).toBeGreaterThan(0)
    expect(withdrawn.effects).not.toEqual(before.effects)

    await withOrganisation(
      database,
      organisation,
      (scope) => putLibrary(scope, { content: fleet.content, now: NOW }),
      'write',
    )
    expect((await ask(first)).followed).toBeGreaterThan(0)
  },
  PATIENCE_MS,
)

const mostLooked = () => byLooks()[0]!

/** The vehicles, those with the most codes and looks of the last two years first. */
function byLooks(): string[] {
  const counts = fleet.records.vehicles.map(({ unit }) => {
    const lately = <Row extends { unit: string }>(rows: Row[], dayOf: (row: Row) => number) =>
      rows.filter((row) => row.unit === unit && dayOf(row) > TODAY - 700).length
    const { codes, repairs } = fleet.records
    return { unit, count: lately(codes, (row) => row.seenOn) + lately(repairs, (row) => row.doneOn) }
  })
  return counts.sort((a, b) => b.count - a.count).map(({ unit }) => unit)
}

test(
  'a vehicle that is not scored, or a weak point that it does not have, is not explained',
  async () => {
    const organisation = await scoredFleet('none')
    const nothing = await withOrganisation(database, organisation, (scope) =>
      readToExplain(scope, 'no such', NOW),
    )
    expect(nothing).toBeNull()
    const vehicle = await explained(organisation, mostLooked())
    expect(whyChance(vehicle, { weakPoint: 'no-such', position: 1, horizonDays: 90 })).toBeNull()
  },
  PATIENCE_MS,
)
