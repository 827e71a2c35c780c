import fs from 'node:fs'
import http from 'node:http'
import os from 'node:os'
import path from 'node:path'
import { Readable } from 'node:stream'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { makeToken } from '@/lib/people/tokens'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { openDatabase } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { startDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'
import { createOrganisation } from '@/lib/store/write/create-organisation'
import { type Product, startProduct } from '../browser/product'
import { EXAMPLE_LIBRARY } from '../records/example-library'
import { PROGRAM, WRONG_PROGRAMS } from './client-program'
import { clientFolder, filesInError, runProgram } from './generated-client'

/** A folder that PostgreSQL's user may enter when root runs the tests. */
const home = fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-machine-'))
fs.chmodSync(home, 0o755)

let product: Product
let token: string

const start = () => startProduct(home, { GUDGEON_DEMO: 'no', GUDGEON_LARGEST_BODY_MB: '24' })

beforeAll(async () => {
  product = await start()
  token = await anOwnersToken()
}, 600_000)

afterAll(async () => {
  await product.end()
  fs.rmSync(home, { recursive: true, force: true })
})

async function anOwnersToken(name = 'served'): Promise<string> {
  const started = await startDatabase({ home })
  const database = await openDatabase(started.url, { kind: 'command', name: 'test' })
  try {
    const now = new Date()
    const id = await createOrganisation(database, { name, settings: DEFAULT_SETTINGS, now })
    return await withOrganisation(
      database,
      organisationId(id ?? ''),
      (scope) => makeToken(scope, { name, role: 'owner', by: null, now }),
      'write',
    )
  } finally {
    await database.$disconnect()
    await started.stop()
  }
}

const ask = (method: string, address: string, body?: unknown) =>
  fetch(`${product.address}${address}`, {
    method,
    headers: { Authorization: `Bearer ${token}`, 'Content-Type': 'application/json' },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  })

type Description = { servers: [{ url: string }] }

const post = (kind: string, rows: unknown[]) => ask('POST', `/api/v1/${kind}`, rows)
const reading = (km: number) => ({ unit: 'V1', read_on: '2026-06-01', odometer_km: km })

test('the served addresses answer, with their headers', async () => {
  expect((await ask('PUT', '/api/v1/library', EXAMPLE_LIBRARY)).status).toBe(200)
  const vehicle = { unit: 'V1', family: 'plover-22', in_service_on: '2020-01-01' }
  expect((await post('vehicles', [vehicle])).status).toBe(200)
  const asked: [string, string, number][] = [
    ['GET', '/api/openapi.json', 200],
    ['GET', '/api/v1/vehicles', 200],
    ['HEAD', '/api/v1/vehicles', 200],
    ['GET', '/api/v1/vehicles/V1', 200],
    ['GET', '/api/v1/vehicles/V1/records', 200],
    ['GET', '/api/v1/scores?horizon_days=90&sort=-cost_of_waiting&limit=200', 200],
    ['GET', '/api/v1/scores?unit=V1&horizon_days=17', 200],
    ['GET', '/api/v1/vehicles/V2', 404],
    ['GET', '/api/v1/wheels', 404],
    ['GET', '/api', 404],
    ['DELETE', '/api/v1/vehicles', 405],
    ['GET', '/api/v1/vehicles/%E0%A4%A', 400],
    ['POST', '/api/v1/%FF', 400],
  ]
  for (const [method, address, status] of asked) {
    const answer = await ask(method, address)
    expect(answer.status, `${method} ${address}`).toBe(status)
    expect(answer.headers.get('Content-Security-Policy'), address).toMatch(/default-src/)
    expect(answer.headers.get('Cache-Control'), address).toBe('private, no-store')
    expect(answer.headers.get('X-Content-Type-Options'), address).toBe('nosniff')
    if (status >= 400) expect(answer.headers.get('Content-Type')).toBe('application/problem+json')
  }
  for (const address of [
    '/api/v1/vehicles/%00',
    '/api/v1/vehicles/%2e%2e%2f',
    '/api/v1/scores?unit=%E0%A4%A',
  ])
    expect((await ask('GET', address)).status, address).toBeLessThan(500)
  expect((await fetch(`${product.address}/api/v1/vehicles`)).status).toBe(401)
})

test('a client that is generated from the description compiles, refuses what is wrong, and is answered as it says', async () => {
  const description = (await (await ask('GET', '/api/openapi.json')).json()) as Description
  const folder = await clientFolder(description, { 'program.ts': PROGRAM, ...WRONG_PROGRAMS })
  try {
    expect(await filesInError(folder)).toEqual(Object.keys(WRONG_PROGRAMS).sort())
    const found = await runProgram(folder, 'program.ts', {
      BASE: `${product.address}${description.servers[0].url}`,
      TOKEN: await anOwnersToken('by a client'),
      LIBRARY: JSON.stringify(EXAMPLE_LIBRARY),
    })
    const entered = (accepted: number) => ({ accepted, unchanged: 0, rejected: [] })
    const unknown = { index: 2, column: 'unit', reason: expect.stringContaining('"C9" is no vehicle') }
    expect(found).toMatchObject({
      version: 1,
      entered: [entered(3), { ...entered(2), rejected: [unknown] }, ...[1, 1, 1, 1].map(entered)],
      status: 'active',
      tables: ['readings', 'readings', 'codes', 'checks'],
      codeStates: ['pending'],
      positions: [1, 2],
      onHand: 4,
      missing: [404, '/api/problems/not-found', 404],
      dropped: expect.arrayContaining([['family', 'plover-22']]),
    })
    // Three vehicles, each with four injectors, a cover and a gasket: four at a time.
    const scores = found.scores as [string, string, number, number][]
    expect([scores.length, found.pages]).toEqual([18, 4])
    expect(new Set(scores.map(([unit, point, position]) => `${unit} ${point} ${position}`)).size).toBe(18)
    expect(scores.every(([, , , chance]) => chance > 0 && chance < 1)).toBe(true)
  } finally {
    fs.rmSync(folder, { recursive: true, force: true })
  }
})

test('a page whose address cannot be read is one that is not there', async () => {
  for (const address of ['/vehicles/%E0%A4%A', '/families/%', '/%FF']) {
    const answer = await fetch(`${product.address}${address}`)
    expect([answer.status, await answer.text()], address).toEqual([
      404,
      expect.stringContaining('There is no such page'),
    ])
    expect(answer.headers.get('Content-Security-Policy'), address).toMatch(/default-src/)
  }
})

test('a body of 20 MB arrives whole', async () => {
  const rows = Array.from({ length: 10_000 }, (_, i) => ({ ...reading(i), source: 'x'.repeat(2000) }))
  expect(await (await post('readings', rows)).json()).toEqual({
    accepted: 10_000,
    unchanged: 0,
    rejected: [],
  })
})

test('a body of 200 MB is refused in words, whether it says so or not, while others are answered', async () => {
  const piece = new Uint8Array(1024 * 1024).fill(32)
  const pieces = async function* () {
    for (let i = 0; i < 200; i++) yield piece
  }
  const headers = { Authorization: `Bearer ${token}`, 'Content-Type': 'application/json' }
  const request = { method: 'POST', headers, duplex: 'half' }
  const send = (body: BodyInit) =>
    fetch(`${product.address}/api/v1/readings`, { ...request, body } as RequestInit).catch(() => null) // it may hang up
  const large = send(new Uint8Array(200 * 1024 * 1024))
  const unsaid = send(Readable.toWeb(Readable.from(pieces())) as ReadableStream<Uint8Array>)
  expect((await ask('GET', '/api/v1/vehicles')).status).toBe(200)
  const answers = await Promise.all([large, unsaid])
  for (const answer of answers) {
    if (answer === null) continue
    expect(await answer.json()).toMatchObject({
      status: 413,
      detail: expect.stringContaining('more than 24 MB'),
    })
  }
  expect(answers.some((answer) => answer !== null)).toBe(true)
  expect((await ask('GET', '/api/v1/vehicles')).status).toBe(200)
})

/** What it has said since it is up; before that it speaks to people at a terminal. */
const loggedLines = () => {
  const [, ...lines] = product.said().slice(product.said().indexOf('Gudgeon is at')).split('\n')
  return lines.filter((line) => line.trim() !== '')
}

test('an entry, a refusal and a fault leave lines of JSON in the log, and nothing of what was said', async () => {
  const driver = { unit: 'MX77TRE', plate: 'MX 77 TRE', customer: 'Wren Marsh', note: 'wren@example.invalid' }
  const vehicle = { ...driver, family: 'plover-22', in_service_on: '2020-01-01' }
  expect((await post('vehicles', [vehicle])).status).toBeLessThan(500)
  const wrong = `${token.slice(0, -4)}AAAA`
  const headers = { Authorization: `Bearer ${wrong}` }
  const refused = await fetch(`${product.address}/api/v1/vehicles/MX77TRE`, { headers })
  expect(refused.status).toBe(401)
  const request = refused.headers.get('X-Request-Id')
  // An action that is sent from elsewhere is a fault to the library that serves pages.
  const action = {
    'Next-Action': '0'.repeat(42),
    Origin: 'http://elsewhere.example',
    'Content-Type': 'text/plain',
  }
  await fetch(`${product.address}/door?from=/vehicles/MX77TRE`, {
    method: 'POST',
    headers: action,
    body: 'Wren Marsh',
  })

  await expect.poll(() => loggedLines().length).toBeGreaterThanOrEqual(2)
  const lines = loggedLines().map((line) => JSON.parse(line) as Record<string, unknown>)
  for (const line of lines)
    expect(line).toMatchObject({ time: expect.any(String), event: expect.any(String) })
  expect(lines).toContainEqual(
    expect.objectContaining({ event: 'token refused', reason: 'unknown', request }),
  )
  expect(lines).toContainEqual(expect.objectContaining({ event: 'unexpected error' }))
  for (const word of ['MX77TRE', 'MX 77', 'Wren', 'wren@', 'elsewhere', token, wrong, token.slice(-20)])
    expect(product.said()).not.toContain(word)
})

test('no file of the project is served, whatever is asked', async () => {
  for (const address of [
    '/.git/config',
    '/.env',
    '/package.json',
    '/prisma/schema.prisma',
    '/.gudgeon/sign-in.secret',
  ])
    expect((await fetch(`${product.address}${address}`)).status, address).toBe(404)
  const traced = await new Promise<number | undefined>((resolve, reject) => {
    const asked = http.request(product.address, { method: 'TRACE' }, (answer) =>
      resolve(answer.resume().statusCode),
    )
    asked.on('error', reject).end()
  })
  expect(traced).toBe(405)
})

/** Sends readings one after the other, and tells of each that was answered, until one is not answered so. */
async function sendUntilGone(from: number, answered: (km: number) => void): Promise<void> {
  for (let km = from; ; km++) {
    const status = await post('readings', [reading(km)]).then(
      (answer) => answer.status,
      () => null,
    )
    if (status !== 200) return
    answered(km)
  }
}

const KILLS = process.env.LONG_TESTS ? 20 : 1

/** The embedded database's own process. */
const databaseProcess = () =>
  Number(fs.readFileSync(path.join(home, 'database/data/postmaster.pid'), 'utf8').split('\n')[0])

test('kill -9 right after a 2xx loses nothing', async () => {
  for (let round = 1; round <= KILLS; round++) {
    const kept: number[] = []
    const killed = product.process
    const answered = (km: number) => {
      kept.push(km)
      if (kept.length !== 10 + round) return
      if (round % 2 === 0) process.kill(databaseProcess(), 'SIGKILL')
      killed.kill('SIGKILL')
    }
    const first = 100_000 * round
    await Promise.all([0, 20_000, 40_000].map((from) => sendUntilGone(first + from, answered)))
    expect(kept.length).toBeGreaterThanOrEqual(10 + round)
    product = await start()
    const all = new Set(await everyReading())
    expect(
      kept.filter((km) => !all.has(km)),
      `round ${round}`,
    ).toEqual([])
  }
})

async function everyReading(): Promise<number[]> {
  const found: number[] = []
  for (let after = ''; ; ) {
    const answer = await ask('GET', `/api/v1/vehicles/V1/records?limit=10000${after}`)
    const { items, next } = (await answer.json()) as { items: { odometer_km: number }[]; next: string | null }
    found.push(...items.map(({ odometer_km }) => odometer_km))
    if (next === null) return found
    after = `&after=${next}`
  }
}
