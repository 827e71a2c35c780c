import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  addressOf,
  BARE_COLUMNS,
  DENSITIES,
  defaultView,
  isNarrowed,
  PANELS,
  parseView,
  queryOf,
  sortedBy,
  thenBy,
  unfiltered,
  type View,
  vehicleAddress,
  withStanding,
} from '@/app/(people)/view'
import {
  CHANGES,
  VEHICLE_STATUSES,
  WATCHLIST_COLUMNS,
  WATCHLIST_MARKS,
} from '@/lib/store/read/watchlist-query'
import { STANDINGS } from '@/lib/store/standing'

/** An address as the server hands it on. */
function parametersIn(address: string): Record<string, string | string[]> {
  const { searchParams } = new URL(address, 'http://x')
  const names = [...new Set(searchParams.keys())]
  return Object.fromEntries(
    names.map((name) => {
      const values = searchParams.getAll(name)
      return [name, values.length === 1 ? values[0]! : values]
    }),
  )
}

const name = fc.string({ minLength: 1, maxLength: 200, unit: 'grapheme' }).map((text) => text.slice(0, 200))
const names = fc.uniqueArray(name, { maxLength: 3 })
const some = <Word>(words: readonly Word[]) => fc.uniqueArray(fc.constantFrom(...words))
const sort = fc.uniqueArray(
  fc.record({ column: fc.constantFrom(...WATCHLIST_COLUMNS), descending: fc.boolean() }),
  {
    selector: ({ column }) => column,
    minLength: 1,
    maxLength: 2,
  },
)

const anyView: fc.Arbitrary<View> = fc.record({
  per: fc.constantFrom('vehicle', 'weak-point'),
  horizonDays: fc.constantFrom(30, 90, 180, 365),
  sort,
  search: fc.string({ maxLength: 200 }).map((text) => text.trim()),
  standings: some(STANDINGS),
  families: names,
  sites: names,
  customers: names,
  weakPoints: names,
  units: names,
  statuses: some(VEHICLE_STATUSES),
  marks: some(WATCHLIST_MARKS),
  changes: some(CHANGES),
  since: fc.oneof(
    fc.constantFrom(null, 'yesterday' as const, 'week' as const, 'month' as const),
    fc.integer({ min: 0, max: 30_000 }).map((on) => ({ on })),
  ),
  columns: some(WATCHLIST_COLUMNS).map((chosen) =>
    WATCHLIST_COLUMNS.filter((column) => column === 'unit' || chosen.includes(column)),
  ),
  density: fc.constantFrom(...DENSITIES),
  distance: fc.constantFrom('km', 'mi'),
})

test('the bare address is the most urgent advice first, then what waiting costs most for, in the own unit', () => {
  const parsed = parseView({}, 'mi')
  expect(parsed).toEqual({ view: defaultView('mi'), panel: null, from: null, dropped: [] })
  expect(parsed.view).toMatchObject({
    per: 'vehicle',
    horizonDays: 90,
    sort: [
      { column: 'advice', descending: false },
      { column: 'waiting', descending: true },
    ],
    since: null,
    columns: BARE_COLUMNS,
    density: 'airy',
    distance: 'mi',
  })
  expect(addressOf(parsed.view, 'mi')).toBe('/')
})

test('every view comes back from its address, whatever is open beside it', () => {
  const own = fc.constantFrom('km' as const, 'mi' as const)
  const panel = fc.constantFrom(null, ...PANELS)
  fc.assert(
    fc.property(anyView, own, panel, fc.option(fc.nat(9_999_999)), (view, distance, open, from) => {
      const address = addressOf(view, distance, '/', { panel: open, from })
      expect(parseView(parametersIn(address), distance)).toEqual({ view, panel: open, from, dropped: [] })
    }),
  )
})

test('what nobody knows is dropped by name, and the rest holds', () => {
  const { view, dropped } = parseView(
    {
      sort: '-odometer,odometer,colour',
      horizon: '91',
      advice: ['stop', 'sell,check'],
      colour: 'red',
      distance: 'ly',
      constructor: 'x',
      since: '2026-02-30',
      columns: 'chance,wheels',
      from: '-1',
      has: 'rust',
    },
    'km',
  )
  expect(view).toMatchObject({
    sort: [{ column: 'odometer', descending: true }],
    horizonDays: 90,
    standings: ['stop', 'check'],
    columns: ['unit', 'chance'],
    since: null,
    marks: [],
  })
  expect(dropped).toEqual([
    'sort=odometer',
    'sort=colour',
    'horizon=91',
    'advice=sell',
    'colour=red',
    'distance=ly',
    'constructor=x',
    'since=2026-02-30',
    'columns=wheels',
    'from=-1',
    'has=rust',
  ])
})

test('a third column to sort by is dropped: two are what people can follow', () => {
  expect(parseView({ sort: 'site,-chance,unit' }, 'km').dropped).toEqual(['sort=unit'])
})

test('a name with a comma is one name', () => {
  expect(parseView({ site: 'Mill Yard, north' }, 'km').view.sites).toEqual(['Mill Yard, north'])
})

test('a blank parameter, as an empty search box sends it, is none', () => {
  const blank = { q: '', advice: '', sort: '', site: '', since: '', customer: ['', ''] }
  expect(parseView(blank, 'km')).toEqual(parseView({}, 'km'))
})

test('sorting again turns round and keeps the second column; a new column begins with what is most telling', () => {
  const { view } = parseView({}, 'km')
  const byChance = sortedBy(view, 'chance')
  expect(byChance.sort).toEqual([{ column: 'chance', descending: true }])
  const thenSite = thenBy(byChance, 'site')
  expect(thenSite.sort).toEqual([
    { column: 'chance', descending: true },
    { column: 'site', descending: false },
  ])
  expect(sortedBy(thenSite, 'chance').sort).toEqual([
    { column: 'chance', descending: false },
    { column: 'site', descending: false },
  ])
  expect(thenBy(thenSite, 'site').sort[1]).toEqual({ column: 'site', descending: true })
  expect(thenBy(thenSite, 'chance').sort[0]).toEqual({ column: 'chance', descending: false })
  expect(sortedBy(thenSite, 'site').sort).toEqual([{ column: 'site', descending: false }])
})

test('changes are counted from so long before the day of the scores, or from a date', () => {
  const on = (since: string) => queryOf(parseView({ since }, 'km').view, 20_000).since
  expect([on('yesterday'), on('week'), on('month'), on('1970-01-02'), on('')]).toEqual([
    19_999,
    19_993,
    19_970,
    1,
    null,
  ])
})

test('letting go of every filter keeps how the list is shown', () => {
  fc.assert(
    fc.property(anyView, (view) => {
      const all = unfiltered(view)
      expect(isNarrowed(all)).toBe(false)
      const { per, horizonDays, sort, since, columns, density, distance } = view
      expect(all).toMatchObject({ per, horizonDays, sort, since, columns, density, distance })
    }),
  )
})

test('an advice that is alone already lets go', () => {
  const { view } = parseView({ advice: 'book,check' }, 'km')
  const alone = withStanding(view, 'book')
  expect(alone.standings).toEqual(['book'])
  expect(withStanding(alone, 'book').standings).toEqual([])
})

test('the page of a vehicle is told at the same horizon and in the same unit, and nothing else', () => {
  const { view } = parseView({ q: 'x', horizon: '180', distance: 'mi', site: 'Mill Yard' }, 'km')
  expect(vehicleAddress('B/2', view, 'km')).toBe('/vehicles/B%2F2?horizon=180&distance=mi')
})
