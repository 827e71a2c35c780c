/** The data behind the tables: each as CSV and as JSON, the same rows; and the address that is told of stops, set by its owner. */
import { parse } from 'csv-parse/sync'
import type { Page } from 'playwright-core'
import { Webhook } from 'standardwebhooks'
import { afterAll, expect, inject, test } from 'vitest'
import { launchChromium } from './chromium'
import type { Person } from './product'

const browser = await launchChromium()
afterAll(() => browser.close())
const ADDRESS = inject('address')
const ANSWERED_MS = 120_000

async function pageOf(person: Person): Promise<Page> {
  const page = await browser.newPage({
    ...inject('signedIn')[person],
    viewport: { width: 1280, height: 900 },
  })
  return page
}

type Json = { asOf: string | null; filters: object; columns: { heading: string }[]; items: object[] }

/** Both forms of a table; null where it is not worked out yet, or there is none. */
async function both(page: Page, address: string): Promise<{ csv: string[][]; json: Json } | null> {
  const [path, query = ''] = address.split('?')
  const ask = (form: string) =>
    page.request.get(`${ADDRESS}${path}.${form}?${query}`, { timeout: ANSWERED_MS })
  const [csv, json] = [await ask('csv'), await ask('json')]
  if (csv.status() === 503 || json.status() === 503) return null
  expect([csv.status(), json.status()], address).toEqual([200, 200])
  expect(csv.headers()['content-type'], address).toContain('text/csv')
  expect(csv.headers()['content-security-policy'], address).toMatch(/default-src/)
  return { csv: parse(await csv.text()), json: await json.json() }
}

const TABLES = [
  ...['/watchlist?advice=book', '/looks?hours=6', '/visits', '/money', '/money/policies', '/parts?weeks=13'],
  ...['/parts/order', '/parts/early', '/proposals', '/families', '/intake', '/letters'],
]

test('every table of a fleet comes as CSV and as JSON, the same rows under the same headings', async () => {
  const page = await pageOf('fleet')
  const list = await both(page, '/watchlist?advice=book')
  const { unit } = list!.json.items[0] as { unit: string }
  const { key } = (await both(page, '/families'))!.json.items[0] as { key: string }
  const own = ['components', 'records', 'set-aside', 'before-sale'].map((name) => `/vehicles/${unit}/${name}`)
  const ofEngine = ['weak-points', 'signs'].map((name) => `/families/${key}/${name}`)
  let told = 0
  for (const address of [...TABLES, ...own, ...ofEngine]) {
    const found = await both(page, address)
    if (!found) continue
    const { csv, json } = found
    const [headings = [], ...rows] = csv
    expect(rows.length, address).toBe(json.items.length)
    expect(headings.length, address).toBe(json.columns.length + 1)
    expect(headings.at(-1), address).toBe('As of')
    for (const row of rows) expect(row.at(-1), address).toBe(json.asOf)
    told++
  }
  // Visits, money and early parts may still be worked out when this comes early.
  expect(told).toBeGreaterThanOrEqual(TABLES.length + own.length + ofEngine.length - 4)
  const none = await page.request.get(`${ADDRESS}/vehicles/nobody/records.json`)
  expect(none.status()).toBe(404)
  await page.close()
})

test('who is not signed in is led to the door, and another organisation’s vehicle is not there', async () => {
  const page = await pageOf('dealer')
  const { unit } = (await both(page, '/watchlist'))!.json.items[0] as { unit: string }
  await page.close()
  const other = await pageOf('fleet')
  expect((await other.request.get(`${ADDRESS}/vehicles/${unit}/records.csv`)).status()).toBe(404)
  await other.close()
  const stranger = await browser.newPage()
  const led = await stranger.request.get(`${ADDRESS}/watchlist.csv`, { maxRedirects: 0 })
  expect([led.status(), led.headers().location]).toEqual([307, expect.stringContaining('/door')])
  await stranger.close()
})

test('an owner names the address that is told of stops: a private one is refused, a secret is shown once', async () => {
  const page = await pageOf('dealer')
  await page.goto(`${ADDRESS}/settings`)
  const section = page.getByRole('region', { name: 'Telling another program of stops' })
  const keep = async (address: string) => {
    await section.getByLabel('Address').fill(address)
    await section.getByRole('button', { name: 'Keep' }).click()
  }
  await keep('https://127.0.0.1/told')
  await section.getByRole('alert').waitFor()
  expect(await section.getByRole('alert').textContent()).toContain('public network')
  await keep('https://told.example.invalid/gudgeon')
  const secret = await section.getByRole('status').locator('code').textContent()
  expect(secret).toMatch(/^whsec_/)
  new Webhook(secret!) // another's program can read it
  await section.getByRole('button', { name: 'Send a test' }).click()
  await expect
    .poll(async () => {
      await page.reload()
      return section.getByRole('table').textContent()
    })
    .toMatch(/A test.*(nobody has that name|Is being sent|Is to be sent)/)
  expect(await section.textContent()).not.toContain(secret)
  await page.close()
})
