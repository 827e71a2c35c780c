/** The next visit of a vehicle, and proposing it: what is proposed once is not proposed again. */
import { expect, test } from 'vitest'
import type { BundleCandidate } from '@/lib/decisions/bundle'
import { enterRecords } from '@/lib/jobs/enter-records'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { jobWithout, type NextVisit, nextVisit, visitAmong } from '@/lib/jobs/next-visit'
import { proposeVisit } from '@/lib/jobs/propose-visit'
import { readProposals } from '@/lib/store/read/proposals'
import { readVehicleComponents } from '@/lib/store/read/vehicle-components'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { actOnProposal } from '@/lib/store/write/act-on-proposal'
import { testDatabase } from '../store/test-database'
import { demoFleet, NOW, partOf, TODAY, withLibrary } from './demo-fleet'

const { database } = await testDatabase()
const fleet = demoFleet(40)
const PATIENCE_MS = 300_000
const organisation = await withLibrary(database, 'visits', fleet)
await enterRecords(database, organisation, fleet.records, { now: NOW, by: null })
await freshenScores(database, organisation, NOW)
const UNITS = fleet.records.vehicles.map(({ unit }) => unit)

const act = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, work, 'write')
const usual = { hereNow: false, hoursFree: null }
const visitOf = (unit: string, more: Partial<{ hereNow: boolean; hoursFree: number | null }> = {}) =>
  act((scope) => nextVisit(scope, { unit, ...usual, ...more }, NOW))

/** Vehicles with a visit that is worth making. */
const visits: { unit: string; visit: NextVisit }[] = []
for (const unit of UNITS) {
  const visit = await visitOf(unit)
  if (visit && visit.jobs.length > 0) visits.push({ unit, visit })
}

test(
  'a visit holds what is due with what goes along, and its sums are those of its jobs',
  async () => {
    expect(visits.length).toBeGreaterThan(1)
    for (const { visit } of visits) {
      const jobs = visit.jobs
      const sum = (of: (job: (typeof jobs)[number]) => number) => jobs.reduce((all, job) => all + of(job), 0)
      expect(jobs.some(({ due, stop }) => due || stop)).toBe(true)
      expect(visit.hours).toBeCloseTo(sum(({ hours }) => hours) - visit.hoursSaved, 9)
      const visitsSaved = sum(({ positions }) => positions.length) - 1
      const shared = sum(({ price }) => price) - visit.price
      expect(visit.saving).toBeCloseTo(sum(({ gain }) => gain) + visitsSaved * visit.visit + shared, 6)
      expect(visit.savingLow).toBeLessThanOrEqual(visit.savingHigh)
      // What is due by itself saves by itself, unless it must be done at any price.
      for (const { due, stop, gain } of jobs) if (due && !stop) expect(gain).toBeGreaterThan(0)
      for (const { gain, low, high } of jobs) expect(low <= high && Number.isFinite(gain)).toBe(true)
    }
  },
  PATIENCE_MS,
)

test('here now, with hours that are not enough for anything, says what is left and proposes nothing', async () => {
  const { unit, visit } = visits[0]!
  const none = await visitOf(unit, { hereNow: true, hoursFree: 0 })
  const free = visit.jobs.filter(({ hours }) => hours === 0)
  expect(none!.jobs.map(({ weakPoint }) => weakPoint)).toEqual(free.map(({ weakPoint }) => weakPoint))
  expect(none!.left.length).toBeGreaterThan(0)
  const now = await visitOf(unit, { hereNow: true })
  expect(now!.visit).toBe(0)
  expect(now!.saving).toBeGreaterThanOrEqual(visit.saving)
})

/** A job of one position that takes a part. */
const jobWith = (
  weakPoint: string,
  part: string | null,
  more: Partial<BundleCandidate> = {},
): BundleCandidate => ({
  ...{
    weakPoint,
    position: 1,
    gain: 100,
    gainBand: { low: 50, high: 200 },
    cost: 80,
    due: true,
    stop: false,
  },
  ...{ hours: 1, sharedHours: 0, access: null, part, ...more },
})

test('here now, a job whose part is not on the shelf is not to be started, and says which part; what must not be driven waits for none', () => {
  const candidates = [
    jobWith('pump', 'P-1'),
    jobWith('pump', 'P-1', { position: 2, gain: 90 }),
    jobWith('valve', 'V-1', { stop: true }),
    jobWith('hose', null),
    jobWith('belt', 'B-1', { hours: 5 }),
  ]
  const choice = { candidates, visit: 50, labourRate: 60 }
  const here = { hereNow: true, hoursFree: 4 }
  const stock = new Map([
    ['P-1', { onHand: 0 }],
    ['V-1', { onHand: 0 }],
  ])
  const started = (visit: NextVisit | null) =>
    visit!.jobs.map(({ weakPoint, positions }) => `${weakPoint} ${positions}`).sort()

  const byStock = visitAmong(choice, here, stock)
  expect(started(byStock)).toEqual(['hose 1', 'valve 1'])
  expect(byStock!.left).toEqual([
    { weakPoint: 'pump', position: 1, lacking: 'P-1' },
    { weakPoint: 'pump', position: 2, lacking: 'P-1' },
    { weakPoint: 'belt', position: 1, lacking: null },
  ])
  expect(byStock!.parts).toContainEqual({ part: 'P-1', wanted: 2, there: 0 })
  expect(byStock!.parts).toContainEqual({ part: 'B-1', wanted: 1, there: null })

  // What somebody has counted at the shelf goes before what the stock says; of two jobs the one that saves more is done.
  const counted = visitAmong(choice, { ...here, onShelf: new Map([['P-1', 1]]) }, stock)
  expect(started(counted)).toEqual(['hose 1', 'pump 1', 'valve 1'])
  expect(counted!.left).toContainEqual({ weakPoint: 'pump', position: 2, lacking: 'P-1' })

  // A visit to come has time to get its parts.
  const later = visitAmong(choice, usual, null)
  expect(started(later)).toEqual(['belt 1', 'hose 1', 'pump 1,2', 'valve 1'])
  expect([later!.left, later!.parts]).toEqual([[], []])
})

test('a visit is proposed once, with what was thought at that hour; a no is not asked again, and a repair closes it', async () => {
  const { unit, visit } = visits[0]!
  const by = { now: NOW, by: null }
  const asked = { unit, ...usual }
  expect(await act((scope) => proposeVisit(scope, asked, by))).toEqual({
    made: visit.jobs.length,
    standing: 0,
  })
  expect(await act((scope) => proposeVisit(scope, asked, by))).toEqual({
    made: 0,
    standing: visit.jobs.length,
  })
  const read = () => act((scope) => readProposals(scope, { unit }))
  const proposals = await read()
  const components = await act((scope) => readVehicleComponents(scope, unit, 90))
  for (const { weakPoint, chances, price, saving, savingLow, savingHigh } of proposals) {
    const job = visit.jobs.find((each) => each.weakPoint === weakPoint)!
    expect([price, saving, savingLow, savingHigh]).toEqual([job.price, job.gain, job.low, job.high])
    for (const { position, pFail } of chances)
      expect(pFail).toBe(
        components.find((each) => each.weakPoint === weakPoint && each.position === position)!.pFail,
      )
  }
  const [first] = proposals
  const no = { act: 'declined' as const, reason: 'too dear', askAgainOn: null }
  await act((scope) => actOnProposal(scope, first!.id, no, by))
  expect((await act((scope) => proposeVisit(scope, asked, by))).made).toBe(0)
  const repair = {
    ...fleet.records.repairs[0]!,
    ...{
      unit,
      weakPoint: first!.weakPoint,
      positions: first!.positions,
      doneOn: TODAY,
      action: 'renew' as const,
    },
    ...{ found: 'failed' as const, revision: null, odometerKm: null, ref: 'closing' },
  }
  await enterRecords(database, organisation, { ...partOf(fleet.records, () => false), repairs: [repair] }, by)
  expect((await read()).find(({ id }) => id === first!.id)!.works).toMatchObject([{ found: 'failed' }])
})

test('who presses at the same time as another proposes nothing twice', async () => {
  const { unit, visit } = visits[1]!
  const press = () => act((scope) => proposeVisit(scope, { unit, ...usual }, { now: NOW, by: null }))
  const made = (await Promise.all([press(), press(), press()])).map((each) => each.made)
  expect(made.sort()).toEqual([0, 0, visit.jobs.length])
  expect(await act((scope) => readProposals(scope, { unit }))).toHaveLength(visit.jobs.length)
})

test('of a job at several positions, what is left is that of which nothing waits', () => {
  const [job] = visits[0]!.visit.jobs
  const at = (position: number) => ({ ...job!.members[0]!, position, cost: 100 + position, hours: position })
  const several = { ...job!, positions: [1, 2, 3], members: [at(1), at(2), at(3)] }
  expect(jobWithout(several, new Set([2]))).toMatchObject({ positions: [1, 3], price: 204, hours: 4 })
  expect(jobWithout(several, new Set([7]))).toMatchObject({ positions: [1, 2, 3], price: 306, hours: 6 })
  expect(jobWithout(several, new Set([1, 2, 3]))).toBeNull()
})
