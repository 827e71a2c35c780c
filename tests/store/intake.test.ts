import fc from 'fast-check'
import { describe, expect, test, vi } from 'vitest'
import { kindOfFile } from '@/lib/intake/kind-of-file'
import type { StagedFile } from '@/lib/intake/read-staged'
import { workOnIntakes } from '@/lib/jobs/work-on-intakes'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readIntake } from '@/lib/store/read/intake'
import { readLibraryInForce } from '@/lib/store/read/library-in-force'
import { readPartStock } from '@/lib/store/read/part-lines'
import { readRecords } from '@/lib/store/read/records'
import { readRejectedRows } from '@/lib/store/read/rejected-rows'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { askIntake, stopIntake } from '@/lib/store/write/ask-intake'
import { changeStagedFile, stageIntake } from '@/lib/store/write/stage-intake'
import { listenToLog } from '../log/logged'
import { EXAMPLE_LIBRARY } from '../records/example-library'
import { anOrganisation, NOW } from './example-records'
import { runSql, testDatabase } from './test-database'

const { database, adminUrl, url } = await testDatabase()

const MS_PER_DAY = 86_400_000
let clock = NOW.getTime()
/** Every question for the time is a moment later. */
const now = () => new Date(clock++)

const file = (name: string, text: string): StagedFile => {
  const bytes = Buffer.from(text)
  return { name, kind: kindOfFile(name, bytes), bytes }
}
const LIBRARY = file('library.json', JSON.stringify({ ...EXAMPLE_LIBRARY, currency: 'EUR' }))
const VEHICLES = file('vehicles.csv', 'unit,family,site\nV1,plover-22,north\nV2,plover-22,\nV3,no-such,\n')
const READINGS = file(
  'readings.csv',
  'unit,read_on,odometer_km,ref\nV1,2026-01-01,1000,a\nV2,2026-01-02,2000,b\n',
)

/** What can be done in one organisation, as the pages and the background do it. */
class Desk {
  constructor(readonly organisation: OrganisationId) {}

  scope<T>(work: (scope: OrganisationScope) => Promise<T>): Promise<T> {
    return withOrganisation(database, this.organisation, work, 'write')
  }
  work = () => workOnIntakes(database, this.organisation, now)
  records = () => this.scope(readRecords)

  async stage(...files: StagedFile[]): Promise<string> {
    const id = await this.scope((scope) => stageIntake(scope, files, { by: null, now: now() }))
    await this.work()
    return id
  }
  async ask(kind: Parameters<typeof askIntake>[1], id: string): Promise<boolean> {
    const asked = await this.scope((scope) => askIntake(scope, kind, { id, by: null, now: now() }))
    await this.work()
    return asked
  }
  async bringIn(...files: StagedFile[]): Promise<string> {
    const id = await this.stage(...files)
    expect(await this.ask('intake-enter', id)).toBe(true)
    return id
  }
  async counts(id: string) {
    const intake = await this.scope((scope) => readIntake(scope, id))
    return intake?.summary?.files.map(({ name, accepted, unchanged, superseded, rejected }) => ({
      name,
      counts: [accepted, unchanged, superseded, rejected],
    }))
  }
}
const desk = async (name: string) => new Desk(await anOrganisation(database, name))

describe('files that are brought in', () => {
  test('parts are told before anything is noted, go in, are taken back and come back', async () => {
    const here = await desk('parts')
    const stock = async () => [...(await here.scope(readPartStock)).values()].map(({ onHand }) => onHand)
    await here.bringIn(file('parts.csv', 'part,on_hand,price\nA,1,9\nB,2,\n'))
    const id = await here.stage(file('stock.csv', 'part,on_hand\nA,5\nB,2\nC,-1\n'))
    expect(await here.counts(id)).toEqual([{ name: 'stock.csv', counts: [0, 1, 1, 1] }])
    expect(await stock()).toEqual([1, 2])
    await here.ask('intake-enter', id)
    expect(await here.counts(id)).toEqual([{ name: 'stock.csv', counts: [0, 1, 1, 1] }])
    expect(await stock()).toEqual([5, 2])
    expect((await here.scope((scope) => readRejectedRows(scope, id))).map(({ reason }) => reason)).toEqual([
      '-1 is negative',
    ])
    await here.ask('intake-take-back', id)
    expect(await stock()).toEqual([1, 2])
    await here.ask('intake-bring-back', id)
    expect(await stock()).toEqual([5, 2])
  })
  test('are told before anything is written, and then do what was told', async () => {
    const here = await desk('told')
    const id = await here.stage(READINGS, VEHICLES, LIBRARY)
    const told = await here.counts(id)
    expect(told).toEqual([
      { name: 'library.json', counts: [1, 0, 0, 0] },
      { name: 'vehicles.csv', counts: [3, 0, 0, 0] },
      { name: 'readings.csv', counts: [2, 0, 0, 0] },
    ])
    expect((await here.records()).vehicles).toEqual([])
    expect(await here.scope(readLibraryInForce)).toBeNull()

    expect(await here.ask('intake-enter', id)).toBe(true)
    expect(await here.counts(id)).toEqual(told)
    expect((await here.records()).readings).toHaveLength(2)
    expect((await here.scope(readLibraryInForce))?.version).toBe(1)
    const { summary } = (await here.scope((scope) => readIntake(scope, id)))!
    expect(summary).toMatchObject({ vehicles: 3, notAssessed: [{ family: 'no-such', vehicles: 1 }] })
  })

  test('a second time change nothing, also when they were staged at once', async () => {
    const here = await desk('twice')
    const [first, second] = [
      await here.stage(LIBRARY, VEHICLES, READINGS),
      await here.stage(LIBRARY, VEHICLES, READINGS),
    ]
    await here.ask('intake-enter', first)
    const before = await here.records()
    expect(await here.ask('intake-enter', first)).toBe(false)
    await here.ask('intake-enter', second)
    expect(await here.records()).toEqual(before)
    expect((await here.counts(second))?.map(({ counts }) => counts)).toEqual([
      [0, 1, 0, 0],
      [0, 3, 0, 0],
      [0, 2, 0, 0],
    ])
    expect((await here.scope(readLibraryInForce))?.version).toBe(1)
  })

  test('a double click is one entry', async () => {
    const here = await desk('double')
    const id = await here.stage(VEHICLES)
    const ask = () => here.scope((scope) => askIntake(scope, 'intake-enter', { id, by: null, now: now() }))
    expect((await Promise.all([ask(), ask(), ask()])).filter(Boolean)).toHaveLength(1)
    await here.work()
    expect((await here.records()).vehicles).toHaveLength(3)
  })

  test('a file that fails half way leaves nothing of it; those before stay, and the rest can go in after', async () => {
    const here = await desk('half way')
    const id = await here.stage(VEHICLES, READINGS)
    const trip = `create function trip() returns trigger language plpgsql as $$ begin
      if new.odometer_km = 2000 then raise exception 'the disk is full'; end if; return new; end $$`
    await runSql(
      adminUrl,
      trip,
      'create trigger trip before insert on readings for each row execute function trip()',
    )
    const log = listenToLog()
    try {
      await here.ask('intake-enter', id)
    } finally {
      await runSql(adminUrl, 'drop trigger trip on readings', 'drop function trip')
    }
    const [logged, more] = log.events()
    const text = log.text()
    log.stop()
    const failed = (await here.scope((scope) => readIntake(scope, id)))!
    expect(logged).toMatchObject({ event: 'unexpected error', level: 'error' })
    expect(more).toBeUndefined()
    expect(text).not.toContain('the disk is full')
    expect(failed.job?.message).toMatch(/^A fault of the server\. Ask again/)
    expect([failed.state, failed.job?.state]).toEqual(['failed', 'failed'])
    const { vehicles, readings } = await here.records()
    expect([vehicles.length, readings.length]).toEqual([3, 0])

    await here.ask('intake-enter', id)
    expect((await here.records()).readings).toHaveLength(2)
    expect((await here.counts(id))?.map(({ counts }) => counts)).toEqual([
      [3, 0, 0, 0],
      [2, 0, 0, 0],
    ])
  })

  test('rows that do not go in are kept, and the mended file is read again', async () => {
    const here = await desk('mended')
    const bad = file(
      'readings.csv',
      'unit,read_on,odometer_km\nV1,1.1.2026,1\nV9,2026-01-01,1\nV2,2026-01-01,7\n',
    )
    const id = await here.stage(VEHICLES, bad)
    const rejected = () => here.scope((scope) => readRejectedRows(scope, id))
    expect((await rejected()).map(({ line, row }) => [line, row])).toEqual([
      [2, 'V1,1.1.2026,1'],
      [3, 'V9,2026-01-01,1'],
    ])
    const bytes = Buffer.from(bad.bytes.toString().replace('1.1.2026', '2026-01-01'))
    const where = { intake: id, name: 'readings.csv' }
    await here.scope((scope) => changeStagedFile(scope, where, { bytes }, { by: null, now: now() }))
    await here.work()
    expect((await rejected()).map(({ line }) => line)).toEqual([3])
  })
})

describe('a large file', () => {
  const ROWS = 40_000
  /** Longer than what is read at once, with one row twice and one that is no reading. */
  const large = () => {
    const rows = Array.from(
      { length: ROWS },
      (_, n) => `V${1 + (n % 2)},2026-01-${10 + (n % 20)},${n},"${'from a tracker, '.repeat(6)}"`,
    )
    return file(
      'readings.csv',
      ['unit,read_on,odometer_km,source', ...rows, rows[0], 'V1,soon,1,'].join('\n'),
    )
  }
  const counted = [{ name: 'readings.csv', counts: [ROWS, 1, 0, 1] }]

  test('is told before anything is written, and then does what was told, in a process of its own', async () => {
    const here = await desk('large')
    await here.bringIn(LIBRARY, VEHICLES)
    const apart = { url, signal: new AbortController().signal }
    const work = () => workOnIntakes(database, here.organisation, now, apart)
    const id = await here.scope((scope) => stageIntake(scope, [large()], { by: null, now: now() }))
    await work()
    expect(await here.counts(id)).toEqual(counted)
    expect((await here.records()).readings).toEqual([])
    await here.scope((scope) => askIntake(scope, 'intake-enter', { id, by: null, now: now() }))
    await work()
    expect(await here.counts(id)).toEqual(counted)
    const { readings } = await here.records()
    expect(readings.map(({ odometerKm }) => odometerKm)).toEqual(Array.from({ length: ROWS }, (_, n) => n))
    const { summary } = (await here.scope((scope) => readIntake(scope, id)))!
    expect(summary?.files[0]).toMatchObject({ vehicles: 2, months: [['2026-01', ROWS + 1]] })

    const again = await here.stage(large())
    expect(await here.counts(again)).toEqual([{ name: 'readings.csv', counts: [0, ROWS + 1, 0, 1] }])
  })

  test('that is stopped while it goes in leaves nothing, and can go in after', async () => {
    const here = await desk('stopped')
    await here.bringIn(LIBRARY, VEHICLES)
    const id = await here.stage(large())
    await here.scope((scope) => askIntake(scope, 'intake-enter', { id, by: null, now: now() }))
    const work = here.work()
    const intake = () => here.scope((scope) => readIntake(scope, id))
    await vi.waitUntil(async () => ((await intake())?.job?.done ?? 0) > 0, { timeout: 60_000, interval: 20 })
    await here.scope((scope) => stopIntake(scope, { id, name: 'Ada', now: now() }))
    await work
    const stopped = await intake()
    expect([stopped?.state, stopped?.job?.state, stopped?.job?.message]).toEqual([
      'failed',
      'stopped',
      'Ada stopped it',
    ])
    expect((await here.records()).readings).toEqual([])
    await here.ask('intake-enter', id)
    expect(await here.counts(id)).toEqual(counted)
  })

  test('that is stopped before its turn is not read', async () => {
    const here = await desk('waiting')
    await here.bringIn(VEHICLES)
    const id = await here.scope((scope) => stageIntake(scope, [READINGS], { by: null, now: now() }))
    await here.scope((scope) => stopIntake(scope, { id, name: 'Ada', now: now() }))
    await here.work()
    expect((await here.scope((scope) => readIntake(scope, id)))?.summary).toBeNull()
    await here.ask('intake-read', id)
    expect(await here.counts(id)).toEqual([{ name: 'readings.csv', counts: [2, 0, 0, 0] }])
  })
})

describe('what was brought in can be taken back', () => {
  test('to what stood before, vehicles and library included; and that can be undone', async () => {
    const here = await desk('back')
    await here.bringIn(LIBRARY, VEHICLES, READINGS)
    const before = await here.records()
    const next = JSON.stringify({ ...JSON.parse(LIBRARY.bytes.toString()), name: 'Another' })
    const id = await here.bringIn(
      file('library.json', next),
      file('vehicles.csv', 'unit,family,site\nV1,plover-22,south\nV4,plover-22,\n'),
      file(
        'readings.csv',
        'unit,read_on,odometer_km,ref\nV1,2026-01-01,1500,a\nV1,2026-02-01,1600,\nV4,2026-01-05,9,\n',
      ),
    )
    const after = await here.records()
    expect(after.vehicles.map(({ unit, site }) => [unit, site])).toContainEqual(['V1', 'south'])
    expect(after.readings).toHaveLength(4)

    for (let round = 0; round < 3; round++) {
      expect(await here.ask('intake-take-back', id)).toBe(true)
      expect(await here.records()).toEqual(before)
      expect((await here.scope(readLibraryInForce))?.version).toBe(1)
      expect(await here.ask('intake-bring-back', id)).toBe(true)
      expect(await here.records()).toEqual(after)
      expect((await here.scope(readLibraryInForce))?.version).toBe(2)
    }
  })

  test('but not what others have said since: a later word stays, and so does its vehicle', async () => {
    const here = await desk('since')
    const id = await here.bringIn(LIBRARY, VEHICLES, READINGS)
    await here.bringIn(
      file('readings.csv', 'unit,read_on,odometer_km,ref\nV1,2026-01-01,1111,a\nV3,2026-01-01,5,\n'),
    )
    await here.ask('intake-take-back', id)
    const { vehicles, readings } = await here.records()
    expect(vehicles.map(({ unit }) => unit)).toEqual(['V1', 'V3'])
    expect(readings.map(({ odometerKm }) => odometerKm)).toEqual([1111, 5])
  })

  test('for thirty days', async () => {
    const here = await desk('thirty')
    const id = await here.bringIn(VEHICLES)
    clock += 31 * MS_PER_DAY
    expect(await here.ask('intake-take-back', id)).toBe(false)
    clock -= 31 * MS_PER_DAY
    expect((await here.records()).vehicles).toHaveLength(3)
  })
})

test('last in, first out: what a vehicle said in between is gone with it', async () => {
  const here = await desk('in between')
  await here.bringIn(LIBRARY)
  const sites = ['north', 'south', 'east']
  const ids: string[] = []
  for (const site of sites)
    ids.push(await here.bringIn(file('vehicles.csv', `unit,site,family\nV1,${site},plover-22\n`)))
  const seen: (string | null)[] = []
  for (const id of ids.reverse()) {
    await here.ask('intake-take-back', id)
    seen.push((await here.records()).vehicles[0]?.site ?? null)
  }
  expect(seen).toEqual(['south', 'north', null])
})

test('whatever files come one after the other: what is told is what happens, and all of it can be taken back', async () => {
  const unit = fc.constantFrom('V1', 'V2', 'V3')
  const vehicle = fc.tuple(unit, fc.constantFrom('north', 'south', ''), fc.constantFrom('active', 'sold', ''))
  const reading = fc.tuple(
    unit,
    fc.constantFrom('2026-01-01', '2026-02-01', 'soon'),
    fc.integer({ min: 1, max: 3 }),
    fc.constantFrom('', '', 'a', 'b'),
  )
  const files = fc.record({
    vehicles: fc.array(vehicle, { maxLength: 3 }),
    readings: fc.array(reading, { maxLength: 6 }),
  })
  const asFiles = ({ vehicles, readings }: { vehicles: string[][]; readings: (string | number)[][] }) => [
    file(
      'vehicles.csv',
      `unit,site,status,family\n${vehicles.map((row) => `${row},plover-22`).join('\n')}\n`,
    ),
    file('readings.csv', `unit,read_on,odometer_km,ref\n${readings.join('\n')}\n`),
  ]
  let case_ = 0
  await fc.assert(
    fc.asyncProperty(fc.array(files, { minLength: 1, maxLength: 4 }), async (steps) => {
      const here = await desk(`property ${case_++}`)
      await here.bringIn(LIBRARY)
      const stood = [await here.records()]
      const ids: string[] = []
      for (const step of steps) {
        const id = await here.stage(...asFiles(step as never))
        const told = await here.counts(id)
        await here.ask('intake-enter', id)
        expect(await here.counts(id)).toEqual(told)
        ids.push(id)
        stood.push(await here.records())
      }
      for (const id of ids.reverse()) {
        expect(await here.records()).toEqual(stood.pop())
        await here.ask('intake-take-back', id)
        expect(await here.records()).toEqual(stood.at(-1))
      }
    }),
    { numRuns: process.env.LONG_TESTS ? 200 : 5 },
  )
}, 240_000)
