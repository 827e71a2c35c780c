import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'
import type { Records } from '@/lib/records/rows'
import { type Day, parseDay } from '@/lib/units/dates'
import { makeDemo } from '@/seed/demo'
import { TODAY, takeIn } from './take-in'

const DAYS = [TODAY, ...['2024-02-29', '2027-01-01'].map((text) => parseDay(text) ?? Number.NaN)]

const digest = (today: Day) => {
  const { files, libraryJson } = makeDemo({ today })
  const hash = createHash('sha256').update(libraryJson)
  for (const [name, bytes] of files) hash.update(name).update(bytes)
  return hash.digest('hex')
}

const daysOf = ({ readings, codes, checks, repairs, changes }: Records): Day[] => [
  ...readings.map((r) => r.readOn),
  ...codes.map((c) => c.seenOn),
  ...codes.flatMap((c) => c.clearedOn ?? []),
  ...checks.map((c) => c.checkedOn),
  ...repairs.map((r) => r.doneOn),
  ...repairs.flatMap((r) => r.enteredOn ?? []),
  ...changes.map((c) => c.on),
]

const latest = (days: Day[]): Day => days.reduce((a, b) => Math.max(a, b))
const earliest = (days: Day[]): Day => days.reduce((a, b) => Math.min(a, b))

test('the same day gives the same bytes, another day others', () => {
  expect(digest(TODAY)).toBe(digest(TODAY))
  expect(digest(TODAY)).not.toBe(digest(TODAY + 1))
})

test.each(DAYS)('the records end the day before day %i, and no row is refused', (today) => {
  const { records, rejected } = takeIn(today)
  expect(rejected).toEqual([])
  expect(latest(daysOf(records))).toBe(today - 1)
  expect(latest(records.readings.map((r) => r.readOn))).toBe(today - 1)
})

test('the records of the watch reach back six years, old invoices further', () => {
  const { readings } = takeIn(TODAY).records
  const watched = readings.filter((r) => r.source !== 'old invoice').map((r) => r.readOn)
  expect(TODAY - 1 - earliest(watched)).toBe(2190)
})

test('the same story is told on every day, only shifted', () => {
  const [first, ...others] = DAYS.map((today) =>
    takeIn(today).records.repairs.map((r) => ({ ...r, doneOn: r.doneOn - today, enteredOn: null })),
  )
  for (const other of others) expect(other).toEqual(first)
})

test('the volume is that of a real fleet', () => {
  const { vehicles, readings, codes, checks, repairs } = takeIn(TODAY).records
  const active = vehicles.filter((v) => v.status === 'active').length
  expect(active).toBeGreaterThan(380)
  expect(active).toBeLessThan(420)
  const rows = readings.length + codes.length + checks.length + repairs.length
  expect(rows).toBeGreaterThan(60_000)
  expect(rows).toBeLessThan(100_000)
})

test('the library is valid: four families named after birds, eight to ten weak points each', () => {
  const { families } = takeIn(TODAY).library
  expect(families.map((f) => f.key)).toEqual(['plover-16', 'dunlin-20', 'siskin-12', 'knot-82'])
  for (const family of families) {
    expect(family.weakPoints.length).toBeGreaterThanOrEqual(8)
    expect(family.weakPoints.length).toBeLessThanOrEqual(10)
    expect(family.upstream.length).toBeGreaterThan(0)
    expect(family.signs.some((s) => s.stop)).toBe(true)
    for (const sign of family.signs) expect(sign.how, sign.key).toBeTruthy()
    for (const { key, cautions, grounds, zone } of family.weakPoints) {
      expect([cautions.length > 0, Boolean(grounds), Boolean(zone)], key).toEqual([true, true, true])
    }
    const shown = new Set(family.signs.flatMap((s) => s.causes.map((c) => c.weakPoint)))
    expect(family.weakPoints.filter((w) => !shown.has(w.key)).map((w) => w.key)).toEqual([])
  }
})

test('the settings and the library use the organisation’s currency', () => {
  const { organisation, library, records } = takeIn(TODAY)
  expect([library.currency, records.settings.currency]).toEqual([
    organisation.currency,
    organisation.currency,
  ])
})

test('the invented world knows neither the model nor the scoring code', () => {
  const root = path.resolve(import.meta.dirname, '../../seed')
  const sources = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((f) => f.endsWith('.ts'))
  expect(sources.length).toBeGreaterThan(10)
  for (const file of sources) {
    const imports = readFileSync(path.join(root, file), 'utf8').matchAll(/from '([^']+)'/g)
    for (const [, from] of imports) expect(from, file).toMatch(/^(\.\.?\/|@\/lib\/units\/)/)
  }
})

test('every reading and repair that was written is taken in', () => {
  const { files, records } = takeIn(TODAY)
  const lines = (name: string) => new TextDecoder().decode(files.get(name)).trimEnd().split('\r\n').length - 1
  expect(records.readings.length).toBe(lines('readings.csv'))
  expect(records.repairs.length).toBe(lines('repairs.csv'))
})
