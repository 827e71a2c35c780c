/** Parts as the page asks for them: from stored scores, planned jobs and what is in stock; and which fail early. */
import { setTimeout as sleep } from 'node:timers/promises'
import { expect, test } from 'vitest'
import type { PlanJob } from '@/lib/decisions/plan-request'
import { earlyPartsNow } from '@/lib/jobs/early-parts'
import { enterRecords } from '@/lib/jobs/enter-records'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { jobsSupplied } from '@/lib/jobs/inner/jobs-supplied'
import { partsNow } from '@/lib/jobs/parts-now'
import type { RepairRow } from '@/lib/records/rows'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { actOnProposal } from '@/lib/store/write/act-on-proposal'
import { makeProposals } from '@/lib/store/write/make-proposals'
import { putServiceLevel } from '@/lib/store/write/put-service-level'
import { stateParts } from '@/lib/store/write/state-parts'
import { EXAMPLE_LIBRARY, exampleLibrary } from '../records/example-library'
import { readingRow, recordsOf, repairRow, vehicleRow } from '../simulation/record-rows'
import { testDatabase } from '../store/test-database'
import { NOW, TODAY, withLibrary } from './demo-fleet'

const { database } = await testDatabase()
const UNITS = ['V1', 'V2', 'V3', 'V4', 'V5', 'V6']
const START = TODAY - 900
const kmOn = (day: number) => (day - START) * 80

/** The parts of one batch went within weeks in three vehicles; in the others those of another run. */
const repairs: RepairRow[] = UNITS.flatMap((unit, i) => {
  const isBad = i < 3
  const batch = isBad ? 'B1' : 'B2'
  const put = repairRow({
    ...{ unit, doneOn: START + 400, weakPoint: 'injector', positions: [1, 2], supplier: 'Reed', batch },
    ...{ found: 'sound' as const, because: 'schedule' as const },
  })
  const went = repairRow({
    ...{ unit, doneOn: START + 460, weakPoint: 'injector', positions: [1, 2], supplier: 'Sedge', batch: 'S' },
    ...{
      found: 'failed' as const,
      because: 'failure' as const,
      partsCost: 100,
      labourHours: 1,
      paidBy: 'own' as const,
    },
  })
  return isBad ? [put, went] : [put]
})
const records = recordsOf({
  vehicles: UNITS.map((unit) =>
    vehicleRow({ unit, family: 'plover-22', builtOn: START, inServiceOn: START }),
  ),
  readings: UNITS.flatMap((unit) =>
    Array.from({ length: 31 }, (_, i) =>
      readingRow({ unit, readOn: START + i * 30, odometerKm: kmOn(START + i * 30) }),
    ),
  ),
  repairs,
})
const content = JSON.stringify(EXAMPLE_LIBRARY)
const organisation = await withLibrary(database, 'parts', { content, library: exampleLibrary(), records })
const act = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, work, 'write')
const now = (weeks = 8) => act((scope) => partsNow(scope, weeks, NOW))

test('before anything is scored, it says what is missing', async () => {
  const { parts, missing } = await now()
  expect(parts).toEqual([])
  expect(missing).toMatchObject({ library: false, scores: true, stock: true, weakPoints: 3 })
  expect(missing.withoutPart.map(({ weakPoint }) => weakPoint)).toEqual(['cover-seep', 'pump-gasket'])
})

test('the need comes from the scores and from what is booked, and what is to be ordered from the stock', async () => {
  await enterRecords(database, organisation, records, { now: NOW, by: null })
  await freshenScores(database, organisation, NOW)
  const before = (await now()).parts
  expect(before.map(({ part }) => part)).toEqual(['INJ-22'])
  const [injectors] = before
  expect(injectors).toMatchObject({ planned: 0, price: 180, priceOfLibrary: true, setOf: 4, stock: null })
  expect(injectors!.makers).toHaveLength(24)
  expect(injectors!.mean).toBeGreaterThan(0)
  expect((await now(4)).parts[0]!.mean).toBeLessThan(injectors!.mean)

  const job = {
    ...{
      weakPoint: 'injector',
      positions: [1, 2, 3, 4],
      chances: [],
      advice: 'book' as const,
      costOfWaiting: 1,
    },
    ...{ price: 1, hours: 1, saving: null, evidence: '' },
  }
  const terms = { unit: 'V6', asOf: TODAY, today: TODAY, horizonDays: 90, now: NOW, by: null }
  const [proposal] = (await act((scope) => makeProposals(scope, [job], terms)))!
  const booked = { act: 'booked' as const, visitOn: TODAY + 10 }
  await act((scope) => actOnProposal(scope, proposal!, booked, { now: NOW, by: null }))
  const line = { part: 'INJ-22', whole: true, onHand: 1, onOrder: 0, dueOn: null, leadDays: 5, price: 150 }
  await act((scope) => stateParts(scope, [{ ...line, supplier: null, notes: {} }], { now: NOW, by: null }))
  const [after] = (await now()).parts
  expect(after).toMatchObject({ planned: 4, price: 150, priceOfLibrary: false, stock: { onHand: 1 } })
  expect(after!.mean).toBeGreaterThanOrEqual(4)
  expect(after!.enough).toBeGreaterThanOrEqual(4)
  expect(after!.toOrder).toBe(after!.enough - 1)
  // Needed in the second week: it is to be there when that week begins.
  expect(after!.shortFrom).toBe(TODAY + 7)
  expect(after!.orderBy).toBe(TODAY + 2)

  await act((scope) => putServiceLevel(scope, 0.5))
  const half = await now()
  expect([half.level, half.parts[0]!.enough <= after!.enough]).toEqual([0.5, true])
})

test('a job of the plan waits for its part, unless the vehicle must not be driven', async () => {
  const job = (unit: string, gain: number, said: Partial<PlanJob> = {}): PlanJob => ({
    ...{ id: unit, unit, weakPoint: 'injector', positions: [1], hours: 1, sharedHours: 0, access: null },
    ...{ stop: false, gainByWeek: [gain, gain], partsInWeek: 0 },
    ...said,
  })
  // One is there, and the next takes 5 days: what gains most has it, the next waits for the week after.
  const jobs = [
    job('V1', 1),
    job('V2', 9),
    job('V3', 5, { weakPoint: 'cover-seep' }),
    job('V4', 0, { stop: true }),
  ]
  const when = { today: TODAY, firstDay: TODAY, weeks: 2, agreed: new Set<string>() }
  const weeksOf = async (some: PlanJob[]) =>
    (await act((scope) => jobsSupplied(scope, some, when))).map(({ partsInWeek }) => partsInWeek)
  expect(await weeksOf(jobs.slice(0, 3))).toEqual([1, 0, 0])
  expect(await weeksOf(jobs)).toEqual([1, 1, 0, 0])
})

test('a batch that went early is found beside the page, once; and again at once where nothing has changed', async () => {
  const first = await earlyPartsNow(database, organisation, NOW)
  expect(first).toEqual({ found: null, working: { done: 0, total: 6 }, waiting: false })
  let answer = first
  for (let i = 0; i < 200 && answer.working; i++) {
    await sleep(50)
    answer = await earlyPartsNow(database, organisation, NOW)
  }
  const { found } = answer
  // Twelve of Reed's, six of Sedge's: two suppliers and three batches.
  expect(found).toMatchObject({ groups: 5, parts: 18 })
  expect(found!.alarms.map(({ supplier, batch, gone }) => [supplier, batch, gone])).toEqual([
    ['Reed', 'B1', 6],
    ['Reed', null, 6],
  ])
  const [worst] = found!.alarms
  expect(worst!.expected).toBeLessThan(1)
  expect(worst!.parts.flatMap(({ endedBy }) => endedBy?.supplier ?? [])).toEqual(Array(6).fill('Sedge'))
  expect(await earlyPartsNow(database, organisation, NOW)).toEqual({ found, working: null, waiting: false })
})
