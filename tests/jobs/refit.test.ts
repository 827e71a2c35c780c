import { expect, test } from 'vitest'
import { asWritten, parseFit } from '@/lib/intake/fit-file'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { refitWhenDue } from '@/lib/jobs/refit'
import { wasLearned } from '@/lib/scoring/family-fit'
import { fitFleet } from '@/lib/scoring/fit-fleet'
import { fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readFitInForce } from '@/lib/store/read/fit-in-force'
import { readLearning } from '@/lib/store/read/learning'
import { readRecords } from '@/lib/store/read/records'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { askRefit } from '@/lib/store/write/ask-refit'
import { testDatabase } from '../store/test-database'
import { demoFleet, NOW, partOf, TODAY, withLibrary } from './demo-fleet'
import { expectAsScored } from './stored-scores'

const { database } = await testDatabase()
const fleet = demoFleet(15)
const PATIENCE_MS = 300_000
const TOMORROW = new Date('2026-03-02T00:30:00Z')

const read = <T>(organisation: OrganisationId, question: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, question)

async function filled(name: string): Promise<OrganisationId> {
  const organisation = await withLibrary(database, name, fleet)
  await withOrganisation(
    database,
    organisation,
    (scope) => addRecords(scope, fleet.records, { now: NOW, by: null }),
    'write',
  )
  return organisation
}

const ask = (organisation: OrganisationId) =>
  withOrganisation(database, organisation, (scope) => askRefit(scope, { by: null, now: NOW }), 'write')

test(
  'what is asked for is learned once, and the scores then rest on it',
  async () => {
    const organisation = await filled('asked')
    await ask(organisation)
    await ask(organisation)
    const ending = new AbortController()
    setTimeout(() => ending.abort(), 500)
    await refitWhenDue(database, organisation, () => NOW, ending.signal)
    expect(await read(organisation, readFitInForce)).toBeNull()
    expect((await read(organisation, readLearning)).job, 'given up, to be begun again').not.toBeNull()

    await refitWhenDue(database, organisation, () => NOW)
    const stored = await read(organisation, readFitInForce)
    const learned = parseFit(stored?.content ?? '', fleet.library)
    if (!learned.ok) throw new Error(learned.errors[0]?.message)
    expect(learned.value.ofLibrary).toBe(true)
    expect(learned.value.fit).toEqual(await direct(organisation))
    const families = [...learned.value.fit.families.values()]
    expect(
      families.flatMap(({ weakPoints }) => [...weakPoints.values()].filter(wasLearned)),
    ).not.toHaveLength(0)

    expect(await freshenScores(database, organisation, NOW)).toBe(fleet.records.vehicles.length)
    expect(await expectAsScored(database, organisation, fleet, learned.value.fit)).toBeGreaterThan(500)

    await refitWhenDue(database, organisation, () => NOW)
    expect(await read(organisation, readFitInForce)).toEqual(stored)
    expect(await read(organisation, readLearning)).toMatchObject({ job: null, failure: null })
  },
  PATIENCE_MS,
)

/** What the stored records teach without a store. */
async function direct(organisation: OrganisationId) {
  const records = await read(organisation, (scope) => readRecords(scope))
  const { library } = fleet
  return asWritten(fitFleet({ fleet: fleetVehicles(records, TODAY), library, asOf: TODAY }), library)
}

test(
  'of itself it learns in the night after enough came in, and not again before more does',
  async () => {
    const organisation = await filled('by night')
    const { renewals } = await read(organisation, readLearning)
    expect(renewals).toBeGreaterThan(20)
    await refitWhenDue(database, organisation, () => NOW)
    expect(await read(organisation, readFitInForce)).toBeNull()

    await refitWhenDue(database, organisation, () => TOMORROW)
    const first = await read(organisation, readFitInForce)
    expect(first).not.toBeNull()
    expect((await read(organisation, readLearning)).last).toEqual({ madeAt: TOMORROW, renewals })

    await refitWhenDue(database, organisation, () => new Date('2026-03-05T12:00:00Z'))
    expect(await read(organisation, readFitInForce)).toEqual(first)
  },
  PATIENCE_MS,
)

test('what fails says why, and leaves in force what was learned before', async () => {
  const nothing = { ...fleet, records: partOf(fleet.records, () => false) }
  const organisation = await withLibrary(database, 'failing', nothing)
  await withOrganisation(
    database,
    organisation,
    ({ tx }) => tx.$executeRaw`update libraries set content = '{"families": 1}'::json`,
    'write',
  )
  await ask(organisation)
  await refitWhenDue(database, organisation, () => NOW)
  const { job, failure } = await read(organisation, readLearning)
  expect(job).toBeNull()
  expect(failure?.message).toMatch(/^The library in force is not valid/)
  expect(await read(organisation, readFitInForce)).toBeNull()
})
