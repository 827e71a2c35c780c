import { beforeAll, describe, expect, test } from 'vitest'
import {
  byComponent,
  componentOf,
  everyScore,
  expectSame,
  fileText,
  fleetFolder,
  type Row,
  rowsOf,
  type Score,
  scoredByCommand,
} from './fleet'
import { ask, machine } from './machine'

const { organisation } = await machine()
const { tokens } = await organisation('fleet')
const { planner: token } = tokens
const dir = fleetFolder(10)

/** Rows as a machine would send them: numbers as numbers, blanks left out. */
const objectsOf = (rows: readonly Row[]) =>
  rows.map((row) =>
    Object.fromEntries(
      Object.entries(row)
        .filter(([, value]) => value !== '')
        .map(([name, value]) => [
          name,
          name !== 'unit' && /^\d+(\.\d+)?$/.test(value) ? Number(value) : value,
        ]),
    ),
  )

async function postFile(kind: string, form: 'json' | 'csv') {
  const csv = fileText(dir, `${kind}.csv`)
  const rows = rowsOf(csv)
  const asked =
    form === 'csv'
      ? { token, body: csv, headers: { 'Content-Type': 'text/csv' } }
      : { token, json: objectsOf(rows) }
  const answer = await ask('POST', `/api/v1/${kind}`, asked)
  return { rows: rows.length, entered: answer.json() }
}

beforeAll(async () => {
  const library = {
    token,
    body: fileText(dir, 'library.json'),
    headers: { 'Content-Type': 'application/json' },
  }
  expect((await ask('PUT', '/api/v1/library', library)).status).toBe(200)
  for (const [kind, form] of [
    ['vehicles', 'json'],
    ['readings', 'csv'],
    ['codes', 'json'],
    ['checks', 'json'],
    ['repairs', 'csv'],
  ] as const) {
    const { rows, entered } = await postFile(kind, form)
    expect(entered).toEqual({ accepted: rows, unchanged: 0, rejected: [] })
    expect(rows).toBeGreaterThan(4)
  }
})

describe('a folder posted in five posts gives what npm run score gives', () => {
  test.each([30, 90, 180, 365])('within %i days', async (days) => {
    const expected = await scoredByCommand(dir, days)
    expect(expected.size).toBeGreaterThan(50)
    expectSame(await everyScore(token, `horizon_days=${days}&limit=37`), expected)
  })

  test('for one vehicle within any number of days', async () => {
    const expected = await scoredByCommand(dir, 45.5)
    const ofOne = [...expected.values()].filter(({ unit }) => unit === 'V0003')
    expectSame(await everyScore(token, 'horizon_days=45.5&unit=V0003&limit=3'), byComponent(ofOne))
  })

  test('as CSV: every row, with the columns of scores.csv', async () => {
    const headers = { Accept: 'text/csv' }
    const { text, headers: said } = await ask('GET', '/api/v1/scores', { token, headers })
    expect(said.get('Content-Type')).toMatch(/^text\/csv/)
    expect(text.split('\r\n')[0]).toBe(
      'unit,weak_point,position,as_of,horizon_days,horizon_km,p_fail,p_low,p_high,p_developing,remaining_km_p50,cost_of_waiting,advice',
    )
    expectSame(rowsOf(text), await scoredByCommand(dir, 90))
  })

  test('as CSV with a limit: a link leads on', async () => {
    const headers = { Accept: 'text/csv;q=1, */*;q=0.1' }
    const first = await ask('GET', '/api/v1/scores?sort=-p_fail&limit=5', { token, headers })
    const [, link = ''] = /^<(.*)>; rel="next"$/.exec(first.headers.get('Link') ?? '') ?? []
    const second = await ask('GET', link, { token, headers })
    const best = await everyScore(token, 'sort=-p_fail')
    expect([...rowsOf(first.text), ...rowsOf(second.text)].map(componentOf)).toEqual(
      best.slice(0, 10).map(componentOf),
    )
  })
})

test('the same folder posted again changes nothing', async () => {
  for (const [kind, form] of [
    ['vehicles', 'csv'],
    ['readings', 'json'],
    ['checks', 'csv'],
  ] as const) {
    const { rows, entered } = await postFile(kind, form)
    expect(entered).toEqual({ accepted: 0, unchanged: rows, rejected: [] })
  }
})

describe('a list', () => {
  const columns = [
    'unit',
    'weak_point',
    'position',
    'p_fail',
    'p_low',
    'p_high',
    'p_developing',
    'remaining_km_p50',
    'cost_of_waiting',
  ]
  const signed = columns.flatMap((column) => [column, `-${column}`])

  test.each(signed)('by %s is sorted, whole, and the same at any page length', async (sort) => {
    const whole = await everyScore(token, `sort=${sort}&limit=10000`)
    expect(await everyScore(token, `sort=${sort}&limit=41`)).toEqual(whole)
    const column = sort.replace('-', '')
    const known = whole.map((score) => score[column]).filter((value) => value !== null)
    const sign = sort.startsWith('-') ? -1 : 1
    expect(known).toEqual(known.toSorted((a, b) => sign * (a! < b! ? -1 : a! > b! ? 1 : 0)))
    expect(whole.slice(known.length).every((score) => score[column] === null)).toBe(true)
  })

  test('by advice begins with the most urgent', async () => {
    const order = ['stop', 'book', 'check', 'watch', 'fine']
    const found = (await everyScore(token, 'sort=advice')).map(({ advice }) => order.indexOf(String(advice)))
    expect(found).toEqual(found.toSorted((a, b) => a - b))
  })

  test('is narrowed by each filter, and by all at once', async () => {
    const all = await everyScore(token, '')
    const some = all[Math.floor(all.length / 2)]
    const family = rowsOf(fileText(dir, 'vehicles.csv')).find(({ unit }) => unit === some?.unit)?.family
    const narrowed = async (query: string, holds: (score: Score) => boolean) => {
      const found = await everyScore(token, query)
      expect(found).toEqual(all.filter(holds))
      expect(found.length).toBeGreaterThan(0)
    }
    await narrowed(`unit=${some?.unit}`, ({ unit }) => unit === some?.unit)
    await narrowed(`weak_point=${some?.weak_point}`, ({ weak_point }) => weak_point === some?.weak_point)
    await narrowed(`advice=${some?.advice}`, ({ advice }) => advice === some?.advice)
    const every = `unit=${some?.unit}&weak_point=${some?.weak_point}&advice=${some?.advice}&family=${family}`
    await narrowed(every, (score) =>
      ['unit', 'weak_point', 'advice'].every((column) => score[column] === some?.[column]),
    )
    expect(await everyScore(token, 'site=nowhere')).toEqual([])
    expect(await everyScore(token, 'family=none')).toEqual([])
  })

  test('goes on only in the order in which it began', async () => {
    const { next } = (await ask('GET', '/api/v1/scores?sort=p_fail&limit=2', { token })).json()
    const other = await ask('GET', `/api/v1/scores?sort=-p_fail&limit=2&after=${next}`, { token })
    expect(other.status).toBe(422)
  })
})

test('one code posted moves the scores of that vehicle and of no other', async () => {
  const before = byComponent(await everyScore(token, ''))
  const library = JSON.parse(fileText(dir, 'library.json'))
  const vehicles = rowsOf(fileText(dir, 'vehicles.csv'))
  const family = library.families.find(({ key }: { key: string }) => key === vehicles[4]?.family)
  const sign = family.signs.find(({ codes }: { codes: string[] }) => codes.length > 0)
  const code = String(sign.codes[0]).replace('#', '1')
  const unit = vehicles[4]?.unit
  const seen_on = String([...before.values()][0]?.as_of)
  const answer = await ask('POST', '/api/v1/codes', {
    token: tokens.technician,
    json: [{ unit, seen_on, code, lamp: true }],
  })
  expect(answer.json()).toEqual({ accepted: 1, unchanged: 0, rejected: [] })
  const after = await everyScore(token, '')
  const moved = after.filter((score) => score.p_fail !== before.get(componentOf(score))?.p_fail)
  expect(new Set(moved.map((score) => score.unit))).toEqual(new Set([unit]))
  expect(after).toHaveLength(before.size)
})

test('a hundred questions at once about stale scores are all answered, with the same', async () => {
  const unit = 'V0001'
  const read_on = String((await everyScore(token, 'unit=V0002'))[0]?.as_of)
  await ask('POST', '/api/v1/readings', { token, json: [{ unit, read_on, odometer_km: 9_000_000 }] })
  const answers = await Promise.all(
    Array.from({ length: 100 }, () => ask('GET', '/api/v1/scores?limit=10000', { token })),
  )
  expect(new Set(answers.map(({ status }) => status))).toEqual(new Set([200]))
  expect(new Set(answers.map(({ text }) => text)).size).toBe(1)
})
