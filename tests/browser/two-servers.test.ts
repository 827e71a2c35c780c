/** Two products on one database: what one takes in the other tells, what both are sent at once is in once, and a session ends in both. */
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { makeToken } from '@/lib/people/tokens'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { openDatabase } from '@/lib/store/database'
import { startEmbeddedServer } from '@/lib/store/inner/embedded-server'
import { organisationId } from '@/lib/store/organisation-id'
import { prepareDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'
import { createOrganisation } from '@/lib/store/write/create-organisation'
import { EXAMPLE_LIBRARY } from '../records/example-library'
import { launchChromium } from './chromium'
import { fillInFirstOwner, PASSWORD } from './first-owner'
import { type Product, startProduct } from './product'

const home = fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-two-'))
fs.chmodSync(home, 0o755)
const browser = await launchChromium()
let server: Awaited<ReturnType<typeof startEmbeddedServer>>
let products: Product[] = []

beforeAll(async () => {
  server = await startEmbeddedServer(home)
  const variables = { GUDGEON_DEMO: 'no', DATABASE_URL: server.adminUrl('postgres') }
  // Both at once: each finds an empty database that is to be prepared.
  products = await Promise.all([startProduct(home, variables), startProduct(home, variables)])
})
afterAll(async () => {
  await browser.close()
  await Promise.all(products.map((product) => product.end()))
  await server.release()
  fs.rmSync(home, { recursive: true, force: true })
})

async function anOwnersToken(): Promise<string> {
  const prepared = await prepareDatabase(server.adminUrl('postgres'))
  const database = await openDatabase(prepared, { kind: 'command', name: 'test' })
  const now = new Date()
  const id = await createOrganisation(database, { name: 'both', settings: DEFAULT_SETTINGS, now })
  const token = await withOrganisation(
    database,
    organisationId(id ?? ''),
    (scope) => makeToken(scope, { name: 'both', role: 'owner', by: null, now }),
    'write',
  )
  await database.$disconnect()
  return token
}

test('what was sent to one is told by the other, and what was sent to both at once is in once', async () => {
  const token = await anOwnersToken()
  const ask = (at: number, method: string, address: string, body?: unknown, key?: string) =>
    fetch(`${products[at]!.address}/api/v1/${address}`, {
      method,
      headers: {
        Authorization: `Bearer ${token}`,
        'Content-Type': 'application/json',
        ...(key === undefined ? {} : { 'Idempotency-Key': key }),
      },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    })
  expect((await ask(0, 'PUT', 'library', EXAMPLE_LIBRARY)).status).toBe(200)
  const vehicle = { unit: 'V1', family: 'plover-22', in_service_on: '2020-01-01' }
  expect((await ask(1, 'POST', 'vehicles', [vehicle])).status).toBe(200)

  const days = Array.from({ length: 20 }, (_, day) => day)
  const reading = (day: number) => ({
    ...{
      unit: 'V1',
      read_on: `2026-05-${String(day + 1).padStart(2, '0')}`,
      odometer_km: 100_000 + 40 * day,
    },
  })
  const answers = await Promise.all(
    days.flatMap((day) =>
      [0, 1].map((at) => ask(at, 'POST', 'readings', [reading(day)], `reading-of-day-${day}`)),
    ),
  )
  // One of two that come at once may be told to wait for the other; it is then told what that one was.
  expect(answers.map(({ status }) => status).filter((status) => status !== 200 && status !== 409)).toEqual([])
  for (const at of [0, 1]) {
    for (const day of days)
      expect((await ask(at, 'POST', 'readings', [reading(day)], `reading-of-day-${day}`)).status).toBe(200)
    const records = await (await ask(at, 'GET', 'vehicles/V1/records')).json()
    expect(records.items.filter(({ table }: { table: string }) => table === 'readings')).toHaveLength(
      days.length,
    )
  }
  const scores = async (at: number) =>
    (await (await ask(at, 'GET', 'scores?unit=V1&horizon_days=90')).json()).items
  const told = await scores(0)
  expect(told.length).toBeGreaterThan(2)
  expect(await scores(1)).toEqual(told)
})

test('who signs in at one is signed in at the other, and signed out at both', async () => {
  const page = await browser.newPage()
  const [here, there] = products as [Product, Product]
  await page.goto(`${here.address}/door`)
  await fillInFirstOwner(page, 'Two Bays', 'Wren')
  await page.getByLabel('Password').fill(PASSWORD)
  await page.getByRole('button', { name: 'Start it' }).click()
  await page.waitForURL(`${here.address}/`)
  await page.goto(`${there.address}/settings`)
  expect(new URL(page.url()).pathname).toBe('/settings')
  await page.locator('summary').first().click()
  await page.getByRole('button', { name: 'Sign out everywhere' }).click()
  await page.waitForURL(`${there.address}/door`)
  await page.goto(`${here.address}/settings`)
  expect(new URL(page.url()).pathname).toBe('/door')
})
