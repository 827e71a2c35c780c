import fc from 'fast-check'
import { expect, test } from 'vitest'
import { addressOf, parseView, sortedBy, type View, withStanding } from '@/app/(people)/view'
import { WATCHLIST_COLUMNS } from '@/lib/store/read/watchlist-query'
import { STANDINGS } from '@/lib/store/standing'

const parametersIn = (address: string) => Object.fromEntries(new URL(address, 'http://x').searchParams)

const anyView: fc.Arbitrary<View> = fc.record({
  horizonDays: fc.constantFrom(30, 90, 180, 365),
  sort: fc.constantFrom(...WATCHLIST_COLUMNS),
  descending: fc.boolean(),
  search: fc.string({ maxLength: 200 }).map((text) => text.trim()),
  standings: fc.uniqueArray(fc.constantFrom(...STANDINGS)),
  distance: fc.constantFrom('km', 'mi'),
})

test('the bare address is the most urgent advice first, at 90 days, in the organisation’s own unit', () => {
  const { view, dropped } = parseView({}, 'mi')
  expect(view).toEqual({
    horizonDays: 90,
    sort: 'advice',
    descending: false,
    search: '',
    standings: [],
    distance: 'mi',
  })
  expect(dropped).toEqual([])
  expect(addressOf(view, 'mi')).toBe('/')
})

test('every view comes back from its address', () => {
  fc.assert(
    fc.property(anyView, fc.constantFrom('km' as const, 'mi' as const), (view, own) => {
      expect(parseView(parametersIn(addressOf(view, own)), own)).toEqual({ view, dropped: [] })
    }),
  )
})

test('what nobody knows is dropped by name, and the rest holds', () => {
  const { view, dropped } = parseView(
    {
      sort: '-odometer',
      horizon: '91',
      advice: ['stop', 'sell,check'],
      colour: 'red',
      distance: 'ly',
      constructor: 'x',
    },
    'km',
  )
  expect(view).toMatchObject({
    sort: 'odometer',
    descending: true,
    horizonDays: 90,
    standings: ['stop', 'check'],
  })
  expect(dropped).toEqual(['horizon=91', 'advice=sell', 'colour=red', 'distance=ly', 'constructor=x'])
})

test('a blank parameter, as an empty search box sends it, is none', () => {
  expect(parseView({ q: '', advice: '', sort: '' }, 'km')).toEqual({ ...parseView({}, 'km'), dropped: [] })
})

test('sorting again turns round; a new column begins with what is most telling', () => {
  const { view } = parseView({}, 'km')
  const byChance = sortedBy(view, 'chance')
  expect([byChance.sort, byChance.descending]).toEqual(['chance', true])
  expect(sortedBy(byChance, 'chance').descending).toBe(false)
  expect(sortedBy(byChance, 'site').descending).toBe(false)
})

test('an advice that is alone already lets go', () => {
  const { view } = parseView({ advice: 'book,check' }, 'km')
  const alone = withStanding(view, 'book')
  expect(alone.standings).toEqual(['book'])
  expect(withStanding(alone, 'book').standings).toEqual([])
})
