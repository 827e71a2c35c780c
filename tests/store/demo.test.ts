import { expect, test } from 'vitest'
import { addDemo, addDemos } from '@/lib/commands/demo'
import { makeFilled } from '@/lib/commands/inner/make-filled'
import { missingDemos } from '@/lib/commands/inner/missing-demos'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'
import { readRecords } from '@/lib/store/read/records'
import { withOrganisation } from '@/lib/store/with-organisation'
import { makeDemos } from '@/seed/demo'
import { DEMO_NAMES } from '@/seed/demo-names'
import { demoFleet, NOW, TODAY } from '../jobs/demo-fleet'
import { testDatabase } from './test-database'

const { database } = await testDatabase()
const names = async () => (await readOrganisations(database)).map(({ name }) => name)
const [FLEET, DEALER, SHOP] = DEMO_NAMES

test('an empty database wants all three; one of people’s own wants none; a start cut off is gone on with', () => {
  expect(missingDemos([])).toEqual(DEMO_NAMES)
  expect(missingDemos(['Our own garage'])).toEqual([])
  expect(missingDemos(['Our own garage', `${FLEET}`])).toEqual([DEALER, SHOP])
  expect(missingDemos(DEMO_NAMES)).toEqual([])
})

test('an organisation that fails while it is filled is not there at all, and is whole the next time', async () => {
  const { content, records } = demoFleet(2)
  const notText = { ...records.readings[0]!, source: '\0' } // the database refuses it, after the vehicles
  const broken = { ...records, readings: [...records.readings, notText] }
  const organisation = { name: 'cut off', settings: records.settings, owner: { name: 'Ada Moor' }, now: NOW }
  const failing = makeFilled(database, organisation, { library: content, records: broken })
  await expect(failing).rejects.toThrow()
  expect(await names()).toEqual([])
  expect(await database.$queryRaw`select from people`).toEqual([])

  const made = await makeFilled(database, organisation, { library: content, records })
  const stored = await withOrganisation(database, made!, (scope) => readRecords(scope))
  expect(stored.vehicles).toHaveLength(2)
  expect(
    await makeFilled(
      database,
      { ...organisation, settings: DEFAULT_SETTINGS },
      { library: content, records },
    ),
  ).toBe(null)
})

test('those that are missing come in beside the one that is there, which stays as it is', async () => {
  const [dealer] = makeDemos({ today: TODAY, names: [`${DEALER}`] })
  const after = (ms: number) => new Date(NOW.getTime() + ms)
  await addDemo(database, dealer!, after(1))
  await addDemo(database, dealer!, after(2))
  await addDemos(database, [`${SHOP}`], after(3))
  expect(await names()).toEqual(['cut off', DEALER, SHOP])
  for (const { id } of await readOrganisations(database)) {
    const { vehicles } = await withOrganisation(database, organisationId(id), (scope) => readRecords(scope))
    expect(vehicles.length).toBeGreaterThan(1)
  }
})
