import { parse } from 'csv-parse/sync'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { changeText } from '@/app/(people)/change-text'
import { type ReadyView, readyView } from '@/app/(people)/ready-views'
import { csvText, harmless } from '@/app/(people)/twins/twin'
import { addressOf, defaultView, parseView } from '@/app/(people)/view'
import { watchlistTold } from '@/app/(people)/watchlist-told'
import { READY_VIEWS } from '@/app/ui/words'
import type { WatchlistRow } from '@/lib/store/read/watchlist'
import { WATCHLIST_COLUMNS } from '@/lib/store/read/watchlist-query'

const ROW: WatchlistRow = {
  unit: '=1+1',
  plate: '@SUM(A1)',
  family: 'Plover 1.6',
  site: 'Mill "Yard", north',
  customer: null,
  contact: '+44 1',
  status: 'stock',
  history: 'none',
  value: -12.5,
  askingPrice: null,
  daysInStock: 12,
  aside: { amount: 640, p50: 0, p95: 2300 },
  standing: 'book',
  asOf: 20_513,
  odometerKm: 160.9344,
  odometerReadOn: 20_512,
  odometerEstimated: true,
  combined: 0.3,
  weakPoint: 'Injector',
  position: 3,
  place: 'cylinder',
  pFail: 0.1 + 0.2,
  pLow: 0.1,
  pHigh: 0.5,
  costOfWaiting: -3.25,
  speaks: 'line one\nline two',
  lastFullScanOn: null,
  lastLookedAtOn: 20_000,
  weakPointsCovered: 2,
  stale: false,
  changed: {
    kind: 'advice',
    weakPoint: 'Injector',
    position: 3,
    place: 'cylinder',
    wasAdvice: 'watch',
    wasPFail: 0.1,
    advice: 'book',
    pFail: 0.3,
  },
}
const told = {
  view: { ...defaultView('mi'), columns: [...WATCHLIST_COLUMNS] },
  terms: { currency: 'EUR', slotDays: 14 },
  asOf: ROW.asOf,
}
const read = (csv: string): Record<string, string>[] => parse(csv, { columns: true })

test('numbers are untouched, in the unit that their heading says; no text is run as a formula', () => {
  const [row] = read(csvText(watchlistTold([ROW], told)))
  expect(row).toMatchObject({
    Vehicle: "'=1+1",
    Plate: "'@SUM(A1)",
    Contact: "'+44 1",
    Site: 'Mill "Yard", north',
    Place: 'cylinder 3',
    Advice: 'book in',
    'Chance within 90 days': String(0.1 + 0.2),
    'Cost of waiting two weeks (EUR)': '-3.25',
    'Value (EUR)': '-12.5',
    'Asking price (EUR)': '',
    'Odometer (mi)': String(160.9344 / 1.609344),
    'Odometer read on': '2026-02-28',
    'Last full scan on': '',
    'What speaks for it': 'line one\nline two',
    'What changed': 'Injector, cylinder 3: was “keep an eye on”, now “book in”',
    'As of': '2026-03-01',
  })
})

test('whatever is in a cell, what is read back begins like no formula', () => {
  fc.assert(
    fc.property(fc.string(), (text) => {
      const cell = String(harmless(text))
      expect(cell).not.toMatch(/^[=+\-@\t\r]/)
      expect(cell.replace(/^'(?=[=+\-@\t\r])/, '')).toBe(text.replace(/^'(?=[=+\-@\t\r])/, ''))
    }),
  )
  expect([harmless(-1), harmless(null), harmless("it's")]).toEqual([-1, null, "it's"])
})

test('a chance that rose is told as it was and as it is', () => {
  const risen = { ...ROW.changed!, kind: 'risen' as const, weakPoint: 'Pump', place: null, position: 1 }
  expect(changeText(risen, String)).toBe('Pump: was 1 in 10, now 1 in 3')
})

test('each ready view is an address, and keeps the horizon and the unit', () => {
  const view = { ...defaultView('km'), horizonDays: 180, distance: 'mi' as const, search: 'x' }
  for (const name of Object.keys(READY_VIEWS) as ReadyView[]) {
    const ready = readyView(name, view)
    const query = new URLSearchParams(addressOf(ready, 'km').split('?')[1])
    expect(parseView(Object.fromEntries(query), 'km')).toMatchObject({ view: ready, dropped: [] })
    expect(ready).toMatchObject({ horizonDays: 180, distance: 'mi', search: '' })
  }
})
