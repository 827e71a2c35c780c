import { expect, test, vi } from 'vitest'
import { beginStarter, putInForce } from '@/app/(people)/families/new/actions'
import { keepStarterPoint } from '@/app/(people)/families/new/starter-actions'
import { type FormState, UNTOUCHED } from '@/app/ui/form-state'
import type { FamilyDraft } from '@/lib/intake/family-draft'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { outlookOfDraft, readDraftGround } from '@/lib/jobs/outlook-of-draft'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readLibraryDrafts } from '@/lib/store/read/library-drafts'
import { readUnitsOfFamily } from '@/lib/store/read/units-of-family'
import { readWatchlist } from '@/lib/store/read/watchlist'
import { BARE_QUERY } from '@/lib/store/read/watchlist-query'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { parseDay } from '@/lib/units/dates'
import { readingRow, recordsOf, vehicleRow } from '../simulation/record-rows'
import { anOrganisation } from '../store/example-records'
import { testDatabase } from '../store/test-database'
import { storedScores } from './stored-scores'

const { database } = await testDatabase()
const here: { organisation: OrganisationId | null } = { organisation: null }

vi.mock('next/navigation', () => ({
  redirect: (address: string) => {
    throw new Error(`to ${address}`)
  },
}))
vi.mock('@/app/require-person', () => ({
  requirePerson: async () => ({
    database,
    organisation: here.organisation,
    person: { id: '00000000-0000-7000-8000-000000000001', name: 'Wren Ashdown' },
  }),
}))

type Action = (before: FormState, data: FormData) => Promise<FormState>

/** Sends a form as a browser does. @returns where it leads, or what has to be mended */
async function send(action: Action, fields: Record<string, string> = {}): Promise<string | FormState> {
  const data = new FormData()
  for (const [name, value] of Object.entries(fields)) data.set(name, value)
  try {
    return await action(UNTOUCHED, data)
  } catch (error) {
    const [, address] = /^to (.*)$/.exec((error as Error).message) ?? []
    if (address === undefined) throw error
    return address
  }
}

const POINTS: Record<string, string>[] = [
  {
    component: 'Timing chain',
    range: '120 to 220',
    confidence: 'experience',
    sign: 'Rattle cold',
    signKind: 'road',
  },
  {
    component: 'Injector',
    positions: '4',
    by1: '90',
    of1: '10',
    by2: '160k',
    of2: '50',
    confidence: 'hunch',
    sign: 'P030#',
  },
  {
    component: 'Water pump',
    range: '80,000 to 140,000',
    confidence: 'experience',
    warning: '2,000',
    parts: '120',
    hours: '2.5',
  },
  {
    component: 'Fuel hose',
    range: '100-300',
    confidence: 'hunch',
    harm: 'yes',
    severity: 'stop',
    cautions: 'Fuel under pressure.',
  },
  {
    component: 'Oil cooler',
    by1: '100',
    of1: '5',
    by2: '150',
    of2: '20',
    by3: '250',
    of3: '70',
    confidence: 'documented',
  },
]

async function withVehicles(name: string): Promise<OrganisationId> {
  const organisation = await anOrganisation(database, name)
  const km = { 'T-1': 40_000, 'T-2': 130_000, 'T-3': 210_000 }
  const units = Object.entries(km)
  const day = parseDay('2026-02-20') ?? 0
  const records = recordsOf({
    vehicles: units.map(([unit]) => vehicleRow({ unit, family: 'twite-22' })),
    readings: units.map(([unit, odometerKm]) => readingRow({ unit, readOn: day, odometerKm })),
  })
  const now = new Date('2026-03-01T12:00:00Z')
  await withOrganisation(
    database,
    organisation,
    (scope) => addRecords(scope, records, { now, by: null }),
    'write',
  )
  here.organisation = organisation
  return organisation
}

test('five short forms make a family that is in force and scores its vehicles, as was said before', async () => {
  const organisation = await withVehicles('Starter')
  const first = await send(beginStarter.bind(null, 'twite-22'), { name: 'Twite 2.2', cylinders: '4' })
  const [, id = ''] = /^\/families\/new\/([0-9a-f-]{36})\/starter\/new$/.exec(String(first)) ?? []
  expect(id).not.toBe('')

  for (const [i, point] of POINTS.entries()) {
    const led = await send(keepStarterPoint.bind(null, id, null), point)
    const kept = point.component?.toLowerCase().replace(' ', '-')
    const next = i < 4 ? `starter/new?kept=${kept}` : 'starter'
    expect(led).toBe(`/families/new/${id}/${next}`)
  }
  const [draft] = await withOrganisation(database, organisation, readLibraryDrafts)
  const ground = await withOrganisation(database, organisation, (scope) =>
    readDraftGround(scope, draft?.family as FamilyDraft),
  )
  const now = new Date()
  const outlook = ground && outlookOfDraft(ground, now)
  expect(outlook?.scores.map(({ unit }) => unit).sort()).toEqual(['T-1', 'T-2', 'T-3'])
  expect(outlook?.scores[0]?.unit).not.toBe('T-1')

  expect(await send(putInForce.bind(null, id))).toBe('/families/twite-22')
  const known = await withOrganisation(database, organisation, readKnownLibrary)
  const [family] = known?.library.families ?? []
  expect(family?.weakPoints.map(({ component }) => component)).toEqual(
    POINTS.map(({ component }) => component),
  )
  expect(
    family?.weakPoints.every(
      ({ statedBy, statedOn }) => statedBy === 'Wren Ashdown' && /^\d{4}-/.test(statedOn ?? ''),
    ),
  ).toBe(true)
  expect(family?.weakPoints[3]).toMatchObject({
    harm: true,
    severity: 'stop',
    cautions: ['Fuel under pressure.'],
  })
  expect(family?.signs.map(({ positions }) => positions)).toEqual([1, 4])

  await freshenScores(database, organisation, now)
  const scores = [...(await storedScores(database, organisation)).values()].filter(
    ({ horizonDays }) => Number(horizonDays) === outlook?.horizonDays,
  )
  expect(scores).toHaveLength(3 * (4 + 4))
  const query = { ...BARE_QUERY, horizonDays: outlook?.horizonDays ?? 0 }
  const rows = await withOrganisation(database, organisation, (scope) => readWatchlist(scope, query))
  expect(new Map(rows.map(({ unit, standing }) => [unit, standing]))).toEqual(
    new Map(outlook?.scores.map(({ unit, advice }) => [unit, advice])),
  )
  for (const { unit, leading } of outlook?.scores ?? []) {
    const own = scores.filter((each) => each.unit === unit)
    const same = own.find(
      (each) => each.weakPoint === leading.weakPoint && each.position === leading.position,
    )
    expect(Number(same?.pFail)).toBeCloseTo(leading.pFail, 6)
  }
})

test('what cannot be is told and nothing of it is kept; a draft that is gone is told too', async () => {
  const organisation = await withVehicles('Starter refused')
  const first = await send(beginStarter.bind(null, 'twite-22'), { name: 'Twite 2.2', cylinders: '4' })
  const id = String(first).split('/')[3] ?? ''
  const refused = await send(keepStarterPoint.bind(null, id, null), {
    component: 'Pump',
    range: '80 to 85',
    confidence: 'hunch',
  })
  expect(refused).toMatchObject({
    values: { range: '80 to 85' },
    errors: [{ field: 'range', message: expect.stringMatching(/ends at 108,000 mi or later/) }],
  })
  const bad = await send(keepStarterPoint.bind(null, id, null), {
    ...POINTS[0]!,
    sign: 'Lamp',
    signKind: 'code',
  })
  expect(bad).toMatchObject({ errors: [{ field: 'sign' }] })
  const drafts = await withOrganisation(database, organisation, readLibraryDrafts)
  expect(drafts.map(({ family }) => (family as FamilyDraft).weakPoints)).toEqual([[]])
  expect(await send(beginStarter.bind(null, 'twite-22'), { name: 'Again', cylinders: '4' })).toMatchObject({
    errors: [{ message: expect.stringMatching(/has begun to state this engine/) }],
  })
  const gone = await send(
    keepStarterPoint.bind(null, '00000000-0000-7000-8000-000000000002', null),
    POINTS[0]!,
  )
  expect(gone).toMatchObject({ errors: [{ message: expect.stringMatching(/not there any more/) }] })
})

test('the vehicles of an engine are those that are there and have it', async () => {
  const organisation = await withVehicles('Units')
  const units = (most: number) =>
    withOrganisation(database, organisation, (scope) =>
      readUnitsOfFamily(scope, { family: 'twite-22', most }),
    )
  expect(await units(10)).toEqual(['T-1', 'T-2', 'T-3'])
  expect(await units(2)).toEqual(['T-1', 'T-2'])
  await withOrganisation(
    database,
    organisation,
    ({ tx }) => tx.$executeRaw`update vehicles set status = 'sold' where unit = 'T-1'`,
    'write',
  )
  expect(await units(10)).toEqual(['T-2', 'T-3'])
})
