import fc from 'fast-check'
import { beforeAll, describe, expect, test } from 'vitest'
import { TABLE_KINDS } from '@/lib/intake/tables'
import { withOrganisation } from '@/lib/store/with-organisation'
import { EXAMPLE_LIBRARY } from '../records/example-library'
import { fuzzed, runs } from '../runs'
import { ask, machine, rowsInStore } from './machine'

const { database, organisation } = await machine()
const { id, tokens } = await organisation('entering')
const { planner: token } = tokens

const VEHICLE = { unit: 'V1', family: 'plover-22', in_service_on: '2020-01-01' }
const reading = (km: number) => ({ unit: 'V1', read_on: '2026-06-01', odometer_km: km })

const post = (kind: string, json: unknown, headers: Record<string, string> = {}, by = token) =>
  ask('POST', `/api/v1/${kind}`, { token: by, json, headers })
const keyed = (key: string) => ({ 'Idempotency-Key': key })

async function recordsOf(unit: string, query = ''): Promise<Record<string, unknown>[]> {
  const answer = await ask('GET', `/api/v1/vehicles/${unit}/records?limit=10000${query}`, { token })
  expect(answer.status).toBe(200)
  return answer.json().items as Record<string, unknown>[]
}
const kilometresOf = async (unit: string) => (await recordsOf(unit)).map(({ odometer_km }) => odometer_km)

/** How many rows the whole organisation has. */
const rowsHere = () => rowsInStore(database, id)

beforeAll(async () => {
  expect((await ask('PUT', '/api/v1/library', { token, json: EXAMPLE_LIBRARY })).status).toBe(200)
  expect((await post('vehicles', [VEHICLE])).json()).toEqual({ accepted: 1, unchanged: 0, rejected: [] })
})

describe('rows', () => {
  test('that are right go in, the others come back with index, column and reason', async () => {
    const rows = [reading(1000), { ...reading(1001), unit: 'V2' }, reading(1000), 7, reading(1002)]
    expect((await post('readings', rows)).json()).toEqual({
      accepted: 2,
      unchanged: 1,
      rejected: [
        { index: 1, column: 'unit', reason: expect.stringContaining('"V2" is no vehicle') },
        { index: 3, column: '', reason: 'found a number, expected an object' },
      ],
    })
    expect(await kilometresOf('V1')).toEqual([1000, 1002])
  })

  test('of a file come back with their line, too', async () => {
    const body = 'unit,read_on,odometer_km\nV1,2026-06-02,2000\nV1,2.6.2026,2001\n'
    const answer = await ask('POST', '/api/v1/readings', {
      token,
      body,
      headers: { 'Content-Type': 'text/csv' },
    })
    expect(answer.json()).toEqual({
      accepted: 1,
      unchanged: 0,
      rejected: [{ index: 1, line: 3, column: 'read_on', reason: expect.stringContaining('2.6.2026') }],
    })
  })

  test('take the place of the one that had their ref', async () => {
    await post('vehicles', [{ ...VEHICLE, unit: 'R1' }])
    const row = (km: number) => ({ ...reading(km), unit: 'R1', ref: 'r-1' })
    expect((await post('readings', [row(1), row(2)])).json()).toMatchObject({ accepted: 2, unchanged: 0 })
    expect((await post('readings', [row(3)])).json()).toMatchObject({ accepted: 1, unchanged: 0 })
    expect((await post('readings', [row(3)])).json()).toMatchObject({ accepted: 0, unchanged: 1 })
    expect(await kilometresOf('R1')).toEqual([3])
    expect(await recordsOf('R1', '&state=superseded')).toMatchObject([
      { odometer_km: 2, state: 'superseded' },
    ])
  })

  test('of a vehicle leave what they do not say', async () => {
    const vehicle = { unit: 'B1', family: 'plover-22' }
    await post('vehicles', [{ ...vehicle, status: 'stock', site: 'North', duty: 'long' }])
    await post('vehicles', [{ ...vehicle, plate: 'X 1' }])
    const { text } = await ask('GET', '/api/v1/vehicles/B1', { token })
    expect(JSON.parse(text)).toMatchObject({ status: 'stock', site: 'North', duty: 'long', plate: 'X 1' })
  })

  test('of every kind come back as they were sent', async () => {
    await post('vehicles', [{ ...VEHICLE, unit: 'K1' }])
    const sent = {
      readings: { read_on: '2026-01-01', odometer_km: 100_000.5, engine_hours: 0, source: 'tracker' },
      codes: { seen_on: '2026-01-02', code: 'P0302', state: 'pending', lamp: true, cleared_on: '2026-01-03' },
      checks: { checked_on: '2026-01-04', kind: 'scan', seen: ['misfire@2'], looked_for: ['misfire'] },
      repairs: {
        done_on: '2026-01-05',
        weak_point: 'injector',
        action: 'renew',
        positions: [1, 2],
        restored: 0,
      },
      changes: { on: '2026-01-06', kind: 'owner' },
    }
    for (const [table, row] of Object.entries(sent)) {
      const answer = await post(table, [{ unit: 'K1', ...row, driver: 'J. Reed' }])
      expect(answer.json()).toEqual({ accepted: 1, unchanged: 0, rejected: [] })
      const found = (await recordsOf('K1')).find((record) => record.table === table)
      const own = table === 'codes' ? { code_state: sent.codes.state } : {}
      expect(found).toMatchObject({ ...row, ...own, state: 'live', notes: { driver: 'J. Reed' } })
    }
  })

  test('before there is a library are taken in, too', async () => {
    const { tokens } = await organisation('without a library')
    const vehicle = { unit: 'V1', family: 'plover-22' }
    expect((await post('vehicles', [vehicle], {}, tokens.owner)).json()).toMatchObject({ accepted: 1 })
    const repair = { unit: 'V1', done_on: '2026-01-05', weak_point: 'anything', action: 'renew' }
    expect((await post('repairs', [repair], {}, tokens.owner)).json()).toMatchObject({ accepted: 1 })
    const scores = await ask('GET', '/api/v1/scores', { token: tokens.owner })
    expect(scores.json()).toEqual({ items: [], next: null })
  })
})

describe('a list of records', () => {
  test('goes on page by page', async () => {
    await post('vehicles', [{ ...VEHICLE, unit: 'P1' }])
    const rows = Array.from({ length: 7 }, (_, i) => ({ ...reading(i), unit: 'P1' }))
    await post('readings', rows)
    const found: unknown[] = []
    for (let next: unknown = ''; next !== null; ) {
      const after = next === '' ? '' : `&after=${next}`
      const page = (await ask('GET', `/api/v1/vehicles/P1/records?limit=3${after}`, { token })).json()
      found.push(...(page.items as Record<string, unknown>[]).map(({ odometer_km }) => odometer_km))
      next = page.next
    }
    expect(found).toEqual([0, 1, 2, 3, 4, 5, 6])
  })

  test('or of vehicles tells each that was there once, whatever comes in meanwhile', async () => {
    const { tokens } = await organisation('coming in')
    const add = (...units: string[]) => {
      const vehicles = units.map((unit) => ({ ...VEHICLE, unit, family: 'another' }))
      return post('vehicles', vehicles, {}, tokens.owner)
    }
    await add('B', 'D', 'F', 'H')
    const found: unknown[] = []
    for (let next: unknown = ''; next !== null; ) {
      const after = next === '' ? '' : `&after=${next}`
      const page = (await ask('GET', `/api/v1/vehicles?limit=2${after}`, { token: tokens.reader })).json()
      found.push(...(page.items as { unit: string }[]).map(({ unit }) => unit))
      next = page.next
      if (found.length === 2) await add('A', 'E', 'G')
    }
    // What comes in before the place that was reached is not told, and moves nothing; what comes in after it is.
    expect(found).toEqual(['B', 'D', 'E', 'F', 'G', 'H'])
  })
})

describe('an Idempotency-Key', () => {
  test('gets the same answer again, and is done once', async () => {
    const first = await post('readings', [reading(3000)], keyed('a'))
    expect(first.json()).toEqual({ accepted: 1, unchanged: 0, rejected: [] })
    const again = await post('readings', [reading(3000)], keyed('a'))
    expect([again.status, again.text]).toEqual([first.status, first.text])
    const otherwise = await post('readings', [reading(3000)], keyed('b'))
    expect(otherwise.json()).toEqual({ accepted: 0, unchanged: 1, rejected: [] })
  })

  test('with another body, or at another address, is 422', async () => {
    await post('readings', [reading(3001)], keyed('c'))
    for (const [kind, row] of [
      ['readings', reading(3002)],
      ['codes', reading(3001)],
    ] as const) {
      const answer = await post(kind, [row], keyed('c'))
      expect([answer.status, answer.json().type]).toEqual([422, '/api/problems/key-reused'])
    }
    expect(await kilometresOf('V1')).not.toContain(3002)
  })

  test('is each token’s own', async () => {
    await post('readings', [reading(3003)], keyed('d'))
    const other = await post('readings', [reading(3004)], keyed('d'), tokens.technician)
    expect(other.json()).toMatchObject({ accepted: 1 })
  })

  test('is forgotten after 24 hours', async () => {
    await post('readings', [reading(3005)], keyed('e'))
    await withOrganisation(
      database,
      id,
      ({ tx }) =>
        tx.$executeRaw`update idempotency_keys set made_at = made_at - interval '24 hours' where key = 'e'`,
      'write',
    )
    expect((await post('readings', [reading(3006)], keyed('e'))).json()).toMatchObject({ accepted: 1 })
  })

  test('of a request that was refused may be used again', async () => {
    expect((await post('readings', { no: 'list' }, keyed('f'))).status).toBe(422)
    expect((await post('readings', [reading(3007)], keyed('f'))).status).toBe(200)
  })

  test.each(['', 'x'.repeat(256)])('that is %j is 422', async (key) => {
    expect((await post('readings', [], keyed(key))).status).toBe(422)
  })

  test('sent 30 times at once is done once: each answer is the same, or 409 while the first is at work', async () => {
    const before = await rowsHere()
    const rows = Array.from({ length: 200 }, (_, i) => reading(4000 + i))
    const answers = await Promise.all(Array.from({ length: 30 }, () => post('readings', rows, keyed('g'))))
    const done = answers.filter(({ status }) => status === 200)
    expect(new Set(done.map(({ text }) => text))).toEqual(
      new Set(['{"accepted":200,"unchanged":0,"rejected":[]}']),
    )
    const waiting = answers.filter(({ status }) => status === 409)
    expect(done.length + waiting.length).toBe(30)
    expect(waiting.every(({ headers }) => headers.get('Retry-After') === '1')).toBe(true)
    expect(await rowsHere()).toBe(before + 200)
    expect((await post('readings', rows, keyed('g'))).text).toBe(done[0]?.text)
  })

  test('or none: 20 different orders of the same rows at once are 200, and stored once', async () => {
    const before = await rowsHere()
    const rows = Array.from({ length: 100 }, (_, i) => reading(5000 + i))
    const turned = (by: number) => [...rows.slice(by), ...rows.slice(0, by)]
    const answers = await Promise.all(Array.from({ length: 20 }, (_, i) => post('readings', turned(5 * i))))
    expect(answers.map(({ status }) => status)).toEqual(answers.map(() => 200))
    const accepted = answers.reduce((sum, answer) => sum + Number(answer.json().accepted), 0)
    expect([accepted, await rowsHere()]).toEqual([100, before + 100])
  })
})

describe('any JSON', () => {
  const columns = [
    'unit',
    'read_on',
    'seen_on',
    'code',
    'kind',
    'seen',
    'family',
    'odometer_km',
    'ref',
    '__proto__',
  ]
  const value = fc.oneof(
    { weight: 3, arbitrary: fc.constantFrom('V1', '2026-06-01', 'P0301', 'scan', 'plover-22', 'misfire', 5) },
    { weight: 1, arbitrary: fc.jsonValue({ maxDepth: 3, stringUnit: 'binary' }) },
    { weight: 1, arbitrary: fc.constantFrom('\0', '\ud800', 'x'.repeat(5000), -1, 1e308, [[[]]], {}) },
  )
  const name = fc.oneof(
    { weight: 4, arbitrary: fc.constantFrom(...columns) },
    { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 10 }) },
  )
  const row = fc.array(fc.tuple(name, value), { maxLength: 10 }).map((members) => Object.fromEntries(members))
  const body = fc.oneof(
    { weight: 4, arbitrary: fc.array(fc.oneof(row, value), { maxLength: 5 }) },
    { weight: 1, arbitrary: value },
  )

  test('never is a fault, and is stored just as far as the answer says', async () => {
    const property = fc.asyncProperty(fc.constantFrom(...TABLE_KINDS), body, async (kind, json) => {
      const before = await rowsHere()
      const answer = await post(kind, json, {}, tokens.owner) // each token has a limit of its own
      const stored = (await rowsHere()) - before
      if (!Array.isArray(json)) {
        expect([answer.status, stored]).toEqual([422, 0])
        return
      }
      expect(answer.status, answer.text).toBe(200)
      const { accepted, unchanged, rejected } = answer.json() as Record<string, number> & {
        rejected: unknown[]
      }
      expect(Number(accepted) + Number(unchanged) + rejected.length).toBe(json.length)
      expect(stored).toBeLessThanOrEqual(Number(accepted))
      if (accepted === 0) expect(stored).toBe(0)
      expect((await post(kind, json)).json()).toMatchObject({ rejected })
    })
    await fc.assert(property, { numRuns: fuzzed(100) })
  })

  test('as a library never is a fault', async () => {
    const library = fc.oneof(
      body,
      fc.dictionary(fc.constantFrom('format', 'name', 'families', 'zones', 'looks', '__proto__'), value),
    )
    const property = fc.asyncProperty(library, async (json) => {
      const { status } = await ask('PUT', '/api/v1/library', { token, json })
      expect([200, 409, 422]).toContain(status)
    })
    await fc.assert(property, { numRuns: runs(50) })
  })

  test('nested without end is 422, or rejected', async () => {
    const deep = `${'['.repeat(100_000)}${']'.repeat(100_000)}`
    const headers = { 'Content-Type': 'application/json' }
    const inRow = await ask('POST', '/api/v1/readings', {
      token,
      headers,
      body: `[{"unit":${deep}},{"u":${deep}}]`,
    })
    expect([inRow.status, (inRow.json().rejected as unknown[]).length]).toEqual([200, 2])
    const library = `{"format":"gudgeon-library/1","name":"x","families":${deep},"zones":${deep}}`
    expect((await ask('PUT', '/api/v1/library', { token, headers, body: library })).status).toBe(422)
  })
})
