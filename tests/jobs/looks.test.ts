/** What the page of looks tells is what scoring found, chosen and sorted as was asked; the sheet has every sign once. */
import { beforeAll, describe, expect, test } from 'vitest'
import { scoreFleet } from '@/lib/decisions/score-fleet'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { lookSheets } from '@/lib/jobs/look-sheet'
import { type LooksAsked, looksToMake } from '@/lib/jobs/looks-to-make'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readRecords } from '@/lib/store/read/records'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { testDatabase } from '../store/test-database'
import { demoFleet, NOW, TODAY, withLibrary } from './demo-fleet'

const { database } = await testDatabase()
const fleet = demoFleet(40)
let organisation: OrganisationId

const act = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, work)
const ASKED: LooksAsked = {
  ...{ sites: [], kinds: [], hours: null, days: 90 },
  sort: { by: 'worth', descending: true },
  unscannedSort: { by: 'going', descending: true },
}
const found = (asked: Partial<LooksAsked> = {}) => act((scope) => looksToMake(scope, { ...ASKED, ...asked }))

beforeAll(async () => {
  organisation = await withLibrary(database, 'looks', fleet)
  await withOrganisation(
    database,
    organisation,
    (scope) => addRecords(scope, fleet.records, { now: NOW, by: null }),
    'write',
  )
  await freshenScores(database, organisation, NOW)
}, 300_000)

describe('the looks worth making', () => {
  test('are those of the scores, without drives on what must not be driven', async () => {
    const { looks, worth, hours, notDriven, assessed } = await found()
    const records = await act((scope) => readRecords(scope))
    const scored = scoreFleet({
      records,
      library: fleet.library,
      asOf: TODAY,
      horizons: [{ days: 90 }],
    }).vehicles
    const expected = scored.flatMap(({ unit, advice, looks }) =>
      (looks?.worthwhile ?? []).map((look) => ({ unit, advice, ...look })),
    )
    const driven = expected.filter(({ kind, advice }) => kind !== 'road' || advice !== 'stop')
    expect(driven.length).toBeGreaterThan(3)
    expect(notDriven).toBe(expected.length - driven.length)
    expect(assessed).toBe(scored.length)
    const byKey = new Map(driven.map((look) => [`${look.unit} ${look.kind}`, look]))
    expect(looks).toHaveLength(driven.length)
    for (const look of looks) {
      const own = byKey.get(`${look.unit} ${look.kind}`)
      expect(look.worth).toBeCloseTo(own?.worth ?? 0, 6)
      expect(look.moves.map(({ weakPoint, position, now }) => ({ weakPoint, position, now }))).toEqual(
        own?.moves,
      )
      for (const { name, weakPoint } of look.moves) expect(name).not.toBe(weakPoint)
    }
    expect(worth).toBeCloseTo(
      driven.reduce((sum, look) => sum + look.worth, 0),
      6,
    )
    expect(hours).toBeCloseTo(
      driven.reduce((sum, look) => sum + look.hours, 0),
      6,
    )
  })

  test('are narrowed by site, kind and hours, and sorted as asked', async () => {
    const all = await found()
    const [site] = all.sites
    const narrow = await found({ sites: [site!], kinds: ['scan'] })
    expect(narrow.looks.map(({ unit }) => unit).sort()).toEqual(
      all.looks.flatMap((look) => (look.site === site && look.kind === 'scan' ? look.unit : [])).sort(),
    )
    const few = await found({ hours: 0.9 })
    expect(few.hours).toBeLessThanOrEqual(0.9 + 1e-9)
    expect(few.looks.length).toBeLessThan(all.looks.length)
    expect(few.inAll).toBe(all.looks.length)
    const worths = all.looks.map(({ worth }) => worth)
    expect(worths).toEqual([...worths].sort((a, b) => b - a))
    const scans = (await found({ sort: { by: 'scan', descending: true } })).looks
    const ages = scans.map(({ lastFullScanOn }) => lastFullScanOn ?? Number.NEGATIVE_INFINITY)
    expect(ages).toEqual([...ages].sort((a, b) => (a < b ? -1 : a > b ? 1 : 0)))
    expect(all.rounds.reduce((sum, { looks }) => sum + looks.length, 0)).toBe(all.looks.length)
  })

  test('stand beside what was not scanned for so long, each with a part that lights no lamp', async () => {
    const { unscanned } = await found({ days: 60 })
    expect(unscanned.total).toBeGreaterThan(0)
    const lit = new Set(
      fleet.library.families.flatMap(({ key, signs }) =>
        signs.flatMap(({ kind, lamp, causes }) =>
          kind === 'code' && lamp ? causes.map(({ weakPoint }) => `${key} ${weakPoint}`) : [],
        ),
      ),
    )
    for (const { familyKey, asOf, lastFullScanOn, unlit } of unscanned.vehicles) {
      expect(lastFullScanOn === null || asOf - lastFullScanOn > 60).toBe(true)
      expect(lit.has(`${familyKey} ${unlit.weakPoint}`)).toBe(false)
    }
    const going = unscanned.vehicles.map(({ unlit }) => unlit.pDeveloping)
    expect(going).toEqual([...going].sort((a, b) => b - a))
    expect((await found({ days: 3650 })).unscanned.total).toBeLessThanOrEqual(unscanned.total)
  })
})

test('a sheet has every sign that is looked for by hand once, zone by zone in the order of the library', async () => {
  const { vehicles } = fleet.records
  const [one] = vehicles
  const sheets = await act((scope) => lookSheets(scope, [one!.unit, 'nobody', one!.unit], null))
  expect(sheets).toHaveLength(1)
  const family = fleet.library.families.find(({ key }) => key === one!.family)!
  const { zones, cautions } = sheets[0]!
  const byHand = family.signs.flatMap(({ key, kind }) => (kind === 'code' ? [] : key))
  expect(zones.flatMap(({ signs }) => signs.map(({ sign }) => sign)).sort()).toEqual(byHand.sort())
  const order = zones.map(({ zone }) => fleet.library.zones.indexOf(zone))
  expect(order).toEqual([...order].sort((a, b) => a - b))
  expect(cautions.length).toBeGreaterThan(0)
  expect(new Set(cautions).size).toBe(cautions.length)
  const [scan] = await act((scope) => lookSheets(scope, [one!.unit], 'scan'))
  expect(
    scan!.zones.flatMap(({ signs }) => signs.map(({ kind }) => kind)).every((kind) => kind === 'code'),
  ).toBe(true)
})
