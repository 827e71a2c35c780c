import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { runDecide } from '@/lib/commands/decide'
import { runOrder } from '@/lib/commands/order'
import { EXAMPLE_LIBRARY } from '../records/example-library'
import { runOn } from './run-on'

let dir = ''
const at = (name: string) => path.join(dir, name)
const put = (name: string, text: string) => writeFile(path.join(dir, 'data', name), text)

beforeAll(async () => {
  dir = await mkdtemp(path.join(tmpdir(), 'gudgeon-'))
  await mkdir(at('data'))
  await writeFile(at('library.json'), JSON.stringify(EXAMPLE_LIBRARY))
  await put(
    'vehicles.csv',
    'unit,family,in_service_on,status,value\nV1,plover-22,2020-01-01,active,9000\nV2,plover-20,2020-01-01,active,\nV3,plover-22,2020-01-01,retired,\n',
  )
  await put(
    'readings.csv',
    'unit,read_on,odometer_km\nV1,2020-01-01,0\nV1,2023-01-01,60000\nV1,2026-01-01,120000\nV1,2026-06-01,130000\n',
  )
  await put('codes.csv', 'unit,seen_on,odometer_km,code\nV1,2026-06-20,130400,P0303\n')
  await put(
    'repairs.csv',
    'unit,done_on,odometer_km,weak_point,positions,action,found,because\nV1,2026-06-25,130500,injector,3,inspect,developing,sign\n',
  )
})
afterAll(() => rm(dir, { recursive: true }))

const folder = () => [
  '--data',
  at('data'),
  '--library',
  at('library.json'),
  '--as-of',
  '2026-06-30',
  '--no-learning',
]

describe('npm run decide', () => {
  test('writes visits, what to set aside, looks, jobs, the plan and parts, under the names of the contract', async () => {
    const out = at('decisions.json')
    const { code } = await runOn(runDecide, [
      ...folder(),
      '--weeks',
      '4',
      '--cover-km',
      '15000',
      '--out',
      out,
    ])
    expect(code).toBe(0)
    const { vehicles, jobs, plan, parts, quarter, policies } = JSON.parse(await readFile(out, 'utf8'))
    expect(vehicles.map(({ unit }: { unit: string }) => unit)).toEqual(['V1', 'V2'])
    const [one, other] = vehicles
    expect(one.bundle).toEqual([{ weakPoint: 'injector', positions: expect.arrayContaining([3]) }])
    expect(one.saving).toBeGreaterThan(0)
    const { p50, p80, p95, mean } = one.reserve
    expect(p50 <= p80 && p80 <= p95 && mean > 0).toBe(true)
    expect(one.grade).toEqual(expect.any(String))
    expect(other).toMatchObject({ assessed: false, bundle: [], saving: 0, reserve: null, looks: [] })
    const third = jobs.find(({ positions }: { positions: number[] }) => positions[0] === 3)
    expect(third).toMatchObject({ unit: 'V1', weakPoint: 'injector', access: 'rail', stop: false })
    expect(third.gainByWeek).toHaveLength(4)
    expect(plan.visits[0]).toMatchObject({ unit: 'V1', jobs: expect.arrayContaining([third.id]) })
    expect(plan.bound).toBeGreaterThanOrEqual(plan.gain)
    const injectors = parts.find(({ part }: { part: string }) => part === 'INJ-22')
    // What is planned is needed for certain.
    expect(injectors.mean).toBeGreaterThan(1)
    expect(injectors.p95).toBeGreaterThanOrEqual(injectors.p90)
    const { failures, money } = quarter.total
    expect([quarter.vehicles, failures.low <= failures.mean, failures.mean <= failures.high]).toEqual([
      1,
      true,
      true,
    ])
    expect(money.mean).toBeGreaterThan(0)
    const injector = policies.find(({ weakPoint }: { weakPoint: string }) => weakPoint === 'injector')
    const named = (told: { policy: string }[]) => told.map(({ policy }) => policy)
    expect(named(injector.longRun)).toEqual(expect.arrayContaining(['failure', 'optimum', 'signs']))
    expect(named(injector.comingYears)).toEqual(named(injector.longRun))
  })

  test.each([
    ['--weeks 2.5', '--weeks 2.5: must be whole weeks'],
    ['--bays 1.5', '--bays 1.5: must be whole bays'],
    ['--cover-days 0', "option '--cover-days <n>' argument '0' is invalid"],
    ['--fit x.json', 'give --fit or --no-learning, not both'],
  ])('says in one line what is wrong with %s', async (more, line) => {
    const { code, said } = await runOn(runDecide, [...folder(), ...more.split(' ')])
    expect(code).toBe(2)
    expect(said.at(-1)).toContain(line)
  })
})

describe('npm run order', () => {
  const order = async (...more: string[]) => {
    const { code, out, said } = await runOn(runOrder, [...folder(), ...more])
    return { code, said, order: out === '' ? null : JSON.parse(out) }
  }

  test('writes causes, steps and the obvious alternative of what was seen', async () => {
    const { code, order: found } = await order('--unit', 'V1')
    expect(code).toBe(0)
    expect(found).toMatchObject({
      unit: 'V1',
      seen: [{ sign: 'misfire', position: 3 }],
      causes: [{ weakPoint: 'injector', position: 3, chance: 1 }],
      steps: [{ renew: { weakPoint: 'injector', position: 3 } }],
    })
    expect(found.expectedCost).toBe(found.steps[0].expectedCostFromHere)
    expect(found.obvious.expectedCost).toBeGreaterThanOrEqual(found.expectedCost)
  })

  test('spends nothing above the limit', async () => {
    const { order: found } = await order('--unit', 'V1', '--limit', '1')
    expect(found.stop).toEqual({ after: 0, why: 'limit' })
  })

  test.each([
    ['V9', '--unit V9: there is no such vehicle'],
    ['V2', '--unit V2: the library does not know its engine plover-20'],
  ])('says in one line why %s has none', async (unit, line) => {
    const { code, said } = await order('--unit', unit)
    expect([code, said.at(-1)]).toEqual([2, line])
  })

  test('is empty where nothing was seen', async () => {
    const { code, order: found } = await order('--unit', 'V3')
    expect(code).toBe(0)
    expect(found).toEqual({
      unit: 'V3',
      seen: [],
      causes: [],
      steps: [],
      expectedCost: 0,
      obvious: { steps: [], expectedCost: 0 },
    })
  })
})
