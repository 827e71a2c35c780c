import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import path from 'node:path'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Records } from '@/lib/records/rows'
import { checkVin } from '@/lib/records/vin'
import { type Day, parseDay } from '@/lib/units/dates'
import { makeDemos } from '@/seed/demo'
import { runs } from '../runs'
import { ORGANISATIONS, TODAY, takeIn } from './take-in'

const everyOrganisation = ORGANISATIONS.map((key) => ({ key }))
const dayOf = (text: string): Day => parseDay(text) ?? Number.NaN

function digest(today: Day): string {
  const hash = createHash('sha256')
  for (const { libraryJson, files } of makeDemos({ today })) {
    hash.update(libraryJson)
    for (const [name, bytes] of files) hash.update(name).update(bytes)
  }
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

test('on any day the records of all end the day before, reach back six years and are taken in to the last row', () => {
  const anyDay = fc.integer({ min: dayOf('2024-02-29'), max: dayOf('2031-12-31') })
  fc.assert(
    fc.property(anyDay, (today) => {
      for (const key of ORGANISATIONS) {
        const { records, rejected } = takeIn(key, today)
        expect(rejected).toEqual([])
        expect(latest(daysOf(records)), key).toBe(today - 1)
        const watched = records.readings.filter((r) => r.source !== 'old invoice').map((r) => r.readOn)
        const sixYears = 2190
        expect(Math.abs(today - 1 - earliest(watched) - sixYears), key).toBeLessThanOrEqual(7)
      }
    }),
    { numRuns: runs(3), examples: [[dayOf('2024-02-29')], [dayOf('2027-01-01')]] },
  )
})

test('the same stories are told on every day, only shifted', () => {
  const told = (today: Day) =>
    ORGANISATIONS.map((key) => {
      const { repairs } = takeIn(key, today).records
      return JSON.stringify(repairs.map((r) => ({ ...r, doneOn: r.doneOn - today, enteredOn: null })))
    })
  const [shifted, first] = [told(TODAY + 97), told(TODAY)]
  for (const [i, key] of ORGANISATIONS.entries()) expect(shifted[i] === first[i], key).toBe(true)
})

test('all three are made in less than six seconds of processor time', () => {
  const begun = process.cpuUsage()
  makeDemos({ today: TODAY })
  const { user, system } = process.cpuUsage(begun)
  expect((user + system) / 1e6).toBeLessThan(6)
})

test('the volumes are those of a fleet, a dealer and a shop', () => {
  const [fleet, dealer, shop] = ORGANISATIONS.map((key) => takeIn(key, TODAY).records)
  const of = (records: Records | undefined, status: string) =>
    records?.vehicles.filter((v) => v.status === status).length
  expect(of(fleet, 'active')).toBeGreaterThan(380)
  expect(of(fleet, 'active')).toBeLessThan(420)
  expect(of(dealer, 'stock')).toBeGreaterThan(80)
  expect(of(dealer, 'stock')).toBeLessThan(100)
  expect(of(shop, 'active')).toBeGreaterThan(235)
  expect(of(shop, 'active')).toBeLessThan(265)
})

describe.each(everyOrganisation)('$key', ({ key }) => {
  const { records, library, organisation, person, files } = takeIn(key, TODAY)

  test('its engines are named after birds and described whole: signs, sets, links, cautions, how-to, zones', () => {
    for (const family of library.families) {
      expect(['plover-16', 'dunlin-20', 'siskin-12', 'knot-82']).toContain(family.key)
      expect(family.weakPoints.length).toBeGreaterThanOrEqual(8)
      expect(family.weakPoints.length).toBeLessThanOrEqual(10)
      expect(family.upstream.length).toBeGreaterThan(0)
      expect(family.signs.some((s) => s.stop)).toBe(true)
      expect(family.weakPoints.some((w) => w.asASet)).toBe(true)
      for (const { key: sign, how, zone } of family.signs)
        expect([Boolean(how), library.zones.includes(zone ?? '')], sign).toEqual([true, true])
      for (const { key: point, cautions, grounds, zone, part } of family.weakPoints) {
        const said = [
          cautions.length > 0,
          Boolean(grounds),
          library.zones.includes(zone ?? ''),
          Boolean(part),
        ]
        expect(said, point).toEqual([true, true, true, true])
      }
      const shown = new Set(family.signs.flatMap((s) => s.causes.map((c) => c.weakPoint)))
      expect(family.weakPoints.filter((w) => !shown.has(w.key)).map((w) => w.key)).toEqual([])
    }
  })

  test('its settings say its own currency, distance and word for a vehicle’s number', () => {
    const { currency, distance, vehicleNumber, locale, timeZone } = records.settings
    expect({ currency, distance, vehicleNumber, locale, timeZone }).toEqual({
      currency: organisation.currency,
      distance: organisation.distance,
      vehicleNumber: organisation.vehicleNumber,
      locale: organisation.locale,
      timeZone: organisation.timeZone,
    })
    expect(library.currency).toBe(organisation.currency)
  })

  test('a person has one thing to decide', () => {
    expect(person.name).toMatch(/^\S+ \S+$/)
    expect(person.title).toBeTruthy()
    expect(person.decides).toMatch(/^[A-Z][^.]+\.$/)
  })

  test('most vehicles have a VIN, each its own, with a check digit that holds', () => {
    const vins = records.vehicles.flatMap(({ vin }) => vin ?? [])
    expect(vins.length).toBeGreaterThan(0.8 * records.vehicles.length)
    expect(vins.length).toBeLessThan(records.vehicles.length)
    expect(new Set(vins).size).toBe(vins.length)
    for (const vin of vins) expect(checkVin(vin), vin).toMatchObject({ ok: true, checkDigit: 'matches' })
  })

  test('every row that was written is taken in', () => {
    const lines = (name: string) =>
      new TextDecoder().decode(files.get(name)).trimEnd().split('\r\n').length - 1
    expect(records.vehicles.length).toBe(lines('vehicles.csv'))
    expect(records.readings.length).toBe(lines('readings.csv'))
    expect(records.repairs.length).toBe(lines('repairs.csv'))
  })
})

test('the organisations differ in prices, currency and distance', () => {
  const taken = ORGANISATIONS.map((key) => takeIn(key, TODAY))
  expect(new Set(taken.map(({ library }) => library.currency)).size).toBe(3)
  expect(new Set(taken.map(({ library }) => library.labourRate)).size).toBe(3)
  const coil = taken.map(
    ({ library }) =>
      library.families.find((f) => f.key === 'plover-16')?.weakPoints.find((w) => w.key === 'ignition-coil')
        ?.cost.parts,
  )
  expect(new Set(coil).size).toBe(3)
  expect(taken.filter(({ organisation }) => organisation.distance === 'mi')).toHaveLength(1)
})

test('nobody can be reached: numbers kept free for films, mail of a domain that is nobody’s', () => {
  const { vehicles } = takeIn('crowberry-and-ling', TODAY).records
  for (const { contact, customer } of vehicles) {
    expect(contact).toMatch(/^07700 900\d{3}$|^[a-z]+@example\.org$/)
    expect(customer).toBeTruthy()
  }
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
