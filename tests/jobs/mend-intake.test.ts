import { describe, expect, test } from 'vitest'
import { kindOfFile } from '@/lib/intake/kind-of-file'
import type { StagedFile } from '@/lib/intake/read-staged'
import { mendIntakeGroup, mendIntakeRows, readIntakeRowsAgain } from '@/lib/jobs/mend-intake'
import { workOnIntakes } from '@/lib/jobs/work-on-intakes'
import { readIntake } from '@/lib/store/read/intake'
import { readRecords } from '@/lib/store/read/records'
import { readRejectedRows } from '@/lib/store/read/rejected-rows'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { askIntake } from '@/lib/store/write/ask-intake'
import { stageIntake } from '@/lib/store/write/stage-intake'
import { EXAMPLE_LIBRARY } from '../records/example-library'
import { anOrganisation, NOW } from '../store/example-records'
import { testDatabase } from '../store/test-database'

const { database } = await testDatabase()

let clock = NOW.getTime()
const now = () => new Date(clock++)
const bringing = () => ({ by: null, now: now() })

const file = (name: string, text: string): StagedFile => {
  const bytes = Buffer.from(text)
  return { name, kind: kindOfFile(name, bytes), bytes }
}
const LIBRARY = file('library.json', JSON.stringify({ ...EXAMPLE_LIBRARY, currency: 'EUR' }))
/** A folder: of its three vehicles two are refused, and with them most of what else it holds. */
const FOLDER = [
  LIBRARY,
  file('vehicles.csv', 'unit,family,variant\nV1,plover-22,early\nV2,plover-22,erly\nV3,plover-22,late\n'),
  file('readings.csv', `unit,read_on,odometer_km\n${rowsOf(['V1', 'V2', 'V3', 'V9'], '2026-01-01,1000')}`),
  file('codes.csv', `unit;seen_on;code\n${rowsOf(['V2', 'V3'], '2026-01-01,P0301').replaceAll(',', ';')}`),
]
function rowsOf(units: string[], rest: string): string {
  return units.map((unit) => `${unit},${rest}\n`).join('')
}

async function desk(name: string) {
  const organisation = await anOrganisation(database, name)
  const scoped = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  const work = () => workOnIntakes(database, organisation, now)
  const done = async (id: string | null) => {
    await work()
    return id ?? ''
  }
  return {
    scoped,
    stage: async (...files: StagedFile[]) =>
      done(await scoped((scope) => stageIntake(scope, files, bringing()))),
    enter: async (id: string) => {
      await scoped((scope) => askIntake(scope, 'intake-enter', { id, ...bringing() }))
      await work()
    },
    groups: async (id: string) =>
      (await scoped((scope) => readIntake(scope, id)))?.summary?.groups.map((group) => ({
        ...{ key: group.key, value: group.value, rows: group.rows, waiting: group.waiting },
      })) ?? [],
    rejected: (id: string) => scoped((scope) => readRejectedRows(scope, id)),
    mendGroup: async (id: string, key: string) =>
      done(await scoped((scope) => mendIntakeGroup(scope, { id, key }, bringing()))),
    mendRows: async (id: string, cells: Map<string, string[]>) =>
      done(await scoped((scope) => mendIntakeRows(scope, { id, cells }, bringing()))),
    again: async (id: string, key: string) =>
      done(await scoped((scope) => readIntakeRowsAgain(scope, { id, key }, bringing()))),
    entered: async () => {
      const { vehicles, readings, codes } = await scoped(readRecords)
      return [vehicles, readings, codes].map((rows) => rows.map(({ unit }) => unit).toSorted())
    },
  }
}

describe('rows that wait for vehicles go in with them', () => {
  test('before anything went in: the files are read again whole', async () => {
    const here = await desk('waits, staged')
    const id = await here.stage(...FOLDER)
    const before = await here.groups(id)
    expect(before.map(({ value, rows, waiting }) => [value, rows, waiting])).toEqual([
      ['erly', 1, 2],
      ['late', 1, 2],
      ['V9', 1, 0],
    ])
    expect(await here.mendGroup(id, before[0]!.key)).toBe(id)
    expect((await here.groups(id)).map(({ value }) => value)).toEqual(['late', 'V9'])
    await here.enter(id)
    expect(await here.entered()).toEqual([['V1', 'V2'], ['V1', 'V2'], ['V2']])
  })

  test('and after the rest went in: what waited goes along, without being sent again', async () => {
    const here = await desk('waits, in')
    const id = await here.stage(...FOLDER)
    await here.enter(id)
    expect(await here.entered()).toEqual([['V1'], ['V1'], []])

    const late = (await here.rejected(id)).find(({ row }) => row.startsWith('V3,plover'))!
    const second = await here.mendRows(id, new Map([[late.id, ['V3', 'plover-22', '']]]))
    expect(second).not.toBe(id)
    await here.enter(second)
    expect(await here.entered()).toEqual([['V1', 'V3'], ['V1', 'V3'], ['V3']])
    expect((await here.rejected(id)).map(({ row }) => row.slice(0, 2)).toSorted()).toEqual([
      ...['V2', 'V2', 'V2', 'V9'],
    ])
  })

  test('vehicles that came by themselves let them in, by one press', async () => {
    const here = await desk('waits, apart')
    const id = await here.stage(...FOLDER)
    await here.enter(id)
    const others = await here.stage(file('more vehicles.csv', 'unit,family\nV9,plover-22\nV2,plover-22\n'))
    await here.enter(others)
    const groups = await here.groups(id)
    for (const value of ['V9', 'erly']) {
      const again = await here.again(id, groups.find((group) => group.value === value)!.key)
      await here.enter(again)
    }
    expect(await here.entered()).toEqual([['V1', 'V2', 'V9'], ['V1', 'V2', 'V9'], ['V2']])
  })

  test('a file of vehicles that cannot be read keeps the folder until they came otherwise', async () => {
    const here = await desk('waits, file')
    const [library, , ...others] = FOLDER
    const odd = file('vehicles.csv', 'number;engine\nV1;plover-22\nV2;plover-22\nV3;plover-22\n')
    const id = await here.stage(library!, odd, ...others)
    const [root, ...rest] = await here.groups(id)
    expect([root, rest]).toEqual([expect.objectContaining({ rows: 1, waiting: 6 }), []])
    const vehicles = await here.stage(file('vehicles.csv', 'unit,family\nV1,plover-22\nV2,plover-22\n'))
    await here.enter(vehicles)
    expect(await here.again(id, root!.key)).toBe(id)
    // Vehicles are there now: what is still unknown waits for the file that could not be read.
    expect((await here.groups(id)).map(({ waiting }) => waiting)).toEqual([3])
    await here.enter(id)
    expect(await here.entered()).toEqual([['V1', 'V2'], ['V1', 'V2'], ['V2']])
  })
})
