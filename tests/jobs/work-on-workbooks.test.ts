import { CFB } from '@e965/xlsx'
import { describe, expect, test } from 'vitest'
import { workOnIntakes } from '@/lib/jobs/work-on-intakes'
import { workOnWorkbooks } from '@/lib/jobs/work-on-workbooks'
import { readIntake } from '@/lib/store/read/intake'
import { readRecords } from '@/lib/store/read/records'
import { readWorkbookById } from '@/lib/store/read/workbook'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { askIntake } from '@/lib/store/write/ask-intake'
import { askJob } from '@/lib/store/write/ask-job'
import { stageIntake } from '@/lib/store/write/stage-intake'
import { stageWorkbook } from '@/lib/store/write/stage-workbook'
import { partOf, SHEET, workbookOfXml, workbookParts, zeros, zipOf } from '../intake/workbook/archives'
import { fleetSheet, sheetOf, toXlsx } from '../intake/workbook/messy-workbooks'
import { textBytes } from '../intake/workbook/workbooks'
import { EXAMPLE_LIBRARY } from '../records/example-library'
import { anOrganisation, NOW } from '../store/example-records'
import { testDatabase } from '../store/test-database'

const { database } = await testDatabase()

let clock = NOW.getTime()
const now = () => new Date(clock++)
const bringing = () => ({ by: null, now: now() })

async function desk(name: string) {
  const organisation = await anOrganisation(database, name)
  const scoped = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
    withOrganisation(database, organisation, work, 'write')
  const enter = async (id: string | null) => {
    await workOnIntakes(database, organisation, now)
    await scoped((scope) => askIntake(scope, 'intake-enter', { id: id ?? '', ...bringing() }))
    await workOnIntakes(database, organisation, now)
  }
  const bytes = Buffer.from(JSON.stringify({ ...EXAMPLE_LIBRARY, currency: 'EUR' }))
  const library = { name: 'library.json', kind: 'library' as const, bytes }
  await enter(await scoped((scope) => stageIntake(scope, [library], bringing())))

  const work = () => workOnWorkbooks(database, organisation, now)
  const read = (id: string) => scoped((scope) => readWorkbookById(scope, id))
  const stage = (file: string, content: Uint8Array) =>
    scoped((scope) => stageWorkbook(scope, { name: file, bytes: content }, bringing()))
  /** Opens a workbook, and makes files of it as it is guessed where it could be read. */
  const bringIn = async (file: string, content: Uint8Array) => {
    const id = await stage(file, content)
    await work()
    const opened = await read(id)
    if (opened?.job?.state === 'failed') return opened
    await scoped((scope) => askJob(scope, { id, kind: 'workbook-apply', ...bringing() }))
    await work()
    return read(id)
  }
  const counts = async (intake: string | null | undefined) => {
    const { summary } = (await scoped((scope) => readIntake(scope, intake ?? ''))) ?? {}
    const sum = (count: 'accepted' | 'unchanged' | 'superseded' | 'rejected') =>
      summary?.files.reduce((total, file) => total + file[count], 0)
    return [sum('accepted'), sum('unchanged'), sum('superseded'), sum('rejected')]
  }
  const records = async () => {
    const { settings: _, ...lists } = await scoped(readRecords)
    return Object.values(lists).reduce((sum, rows) => sum + rows.length, 0)
  }
  return { bringIn, stage, work, read, enter, counts, records }
}

const locked = CFB.utils.cfb_new()
CFB.utils.cfb_add(locked, '/EncryptionInfo', new Uint8Array(64))
CFB.utils.cfb_add(locked, '/EncryptedPackage', new Uint8Array(5000))

const fleet = toXlsx(fleetSheet())
const prices = toXlsx({
  sheets: [
    sheetOf('Prices', [
      ['Price list, valid from May'],
      ['Part number', 'Description', 'Price', 'Discount group'],
      ['4711-A', 'Oil filter', 12.5, 'B'],
      ['4712-B', 'Injector, new', 180, 'C'],
      ['4713-C', 'Gasket set', 61, 'B'],
    ]),
  ],
})
const formulas = workbookOfXml('<row r="1"><c r="A1"><f>1+1</f></c><c r="B1"><f>A1*2</f></c></row>')

/** Each is a process of its own, which takes a second; why each is refused is tested without one, elsewhere. */
const SHORT = ['a password', 'formulas alone', 'a price list']

describe('a workbook that cannot come in', () => {
  const given: [string, string, Uint8Array, RegExp][] = [
    [
      'a password',
      'jobs.xlsx',
      new Uint8Array(CFB.write(locked, { type: 'buffer' }) as Buffer),
      /^It is protected by a password: save it without one and bring it in again$/,
    ],
    [
      'cut off',
      'jobs.xlsx',
      fleet.subarray(0, fleet.length / 2),
      /^It is cut off or damaged: bring it in again/,
    ],
    [
      'a bomb',
      'jobs.xlsx',
      zipOf(workbookParts({ name: SHEET, packed: zeros(2000), says: 2_000_000_000 })),
      /^It unpacks to far more than any table would/,
    ],
    ['formulas alone', 'jobs.xlsx', formulas, /^It holds formulas alone, and none of their results: open it/],
    ['a PDF by another name', 'jobs.xlsx', textBytes('%PDF-1.7'), /^It is a PDF, not a workbook/],
    [
      'an archive of other things',
      'jobs.xlsx',
      zipOf([partOf('readings.csv', 'unit,read_on,odometer_km\n')]),
      /^It is an archive, and no workbook is in it: unpack it/,
    ],
    ['nothing in it', 'jobs.ods', new Uint8Array(), /^It is empty/],
    ['a price list', 'prices.xlsx', prices, /^None of its sheets tells of anything: open one and say/],
  ]
  const tried = given.filter(([what]) => process.env.LONG_TESTS || SHORT.includes(what))
  test.each(tried)('%s: one line says so, and nothing is written', async (what, name, bytes, said) => {
    const here = await desk(`bad: ${what}`)
    const workbook = await here.bringIn(name, bytes)
    expect(workbook?.job).toMatchObject({ state: 'failed', message: expect.stringMatching(said) })
    expect(workbook?.job?.message?.split('\n')).toHaveLength(1)
    expect([workbook?.intakeId, await here.records()]).toEqual([null, 0])
  })
})

describe('a workbook that is odd comes in all the same', () => {
  test('with macros, which are noted and not read; under another name than its own', async () => {
    const rows = ['V1', 'Plover 2.2', '2026-01-05', '84210'].map(
      (text) => `<c t="inlineStr"><is><t>${text}</t></is></c>`,
    )
    const header = ['Vehicle', 'Engine', 'Date', 'Odometer km'].map(
      (text) => `<c t="inlineStr"><is><t>${text}</t></is></c>`,
    )
    const sheet = `<worksheet><sheetData><row>${header.join('')}</row><row>${rows.join('')}</row></sheetData></worksheet>`
    const bytes = zipOf([...workbookParts(partOf(SHEET, sheet)), partOf('xl/vbaProject.bin', 'macros')])
    const here = await desk('macros')
    const workbook = await here.bringIn('jobs.csv', bytes)
    expect(workbook?.profile?.notes).toEqual(['Its macros are not read'])
    await here.enter(workbook?.intakeId ?? null)
    expect(await here.records()).toBe(2)
  })

  test('with ten thousand columns, most of which nobody knows', async () => {
    const others = Array.from({ length: 9_996 }, (_, place) => `extra ${place}`)
    const header = ['Vehicle', 'Engine', 'Date', 'Odometer km', ...others]
    const row = ['V1', 'Plover 2.2', '2026-01-05', '84210', ...others.map((_, place) => `${place}`)]
    const here = await desk('wide')
    const workbook = await here.bringIn('wide.csv', textBytes(`${header.join(';')}\n${row.join(';')}\n`))
    expect(workbook?.profile?.sheets[0]?.columns).toHaveLength(10_000)
    await here.enter(workbook?.intakeId ?? null)
    expect(await here.records()).toBe(2)
  })

  test('twice: the second time changes nothing', async () => {
    const here = await desk('twice the same')
    const first = await here.bringIn('fleet.xlsx', fleet)
    await here.enter(first?.intakeId ?? null)
    const before = await here.records()
    const second = await here.bringIn('fleet.xlsx', fleet)
    await here.enter(second?.intakeId ?? null)
    const [accepted, unchanged, superseded, rejected] = await here.counts(second?.intakeId)
    expect([accepted, superseded, rejected]).toEqual([0, 0, 0])
    expect(unchanged).toBe(before)
    expect(await here.records()).toBe(before)
  })
})

test('a large workbook says how far it is while it is read, and stops no one else', async () => {
  const rows = Array.from(
    { length: 60_000 },
    (_, row) => `V${row % 40};Plover 2.2;2026-01-05;${84_000 + row};oil service`,
  )
  const here = await desk('large')
  const id = await here.stage(
    'large.csv',
    textBytes(`Vehicle;Engine;Date;Odometer km;Work done\n${rows.join('\n')}\n`),
  )
  const shares: number[] = []
  let isDone = false
  const watched = (async () => {
    while (!isDone) {
      const { job } = (await here.read(id)) ?? {}
      if (job?.state === 'running' && job.total) shares.push(job.done / job.total)
      await new Promise((resolve) => setTimeout(resolve, 20))
    }
  })()
  await here.work()
  isDone = true
  await watched
  expect(shares.length).toBeGreaterThan(0)
  expect(shares).toEqual(shares.toSorted((a, b) => a - b))
  expect(Math.max(...shares)).toBeLessThanOrEqual(1)
  expect((await here.read(id))?.profile?.sheets[0]?.rows).toBe(60_001)
})
