import AxeBuilder from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, expect, inject, test } from 'vitest'
import { openDatabase } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'
import { readVehicleComponents } from '@/lib/store/read/vehicle-components'
import { readWatchlist } from '@/lib/store/read/watchlist'
import { BARE_QUERY, type WatchlistQuery } from '@/lib/store/read/watchlist-query'
import { startDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'
import { launchChromium } from './chromium'

const started = await startDatabase({ home: inject('home') })
const database = await openDatabase(started.url, { kind: 'command', name: 'test' })
const [fleet] = await readOrganisations(database)
const browser = await launchChromium()
afterAll(async () => {
  await browser.close()
  await database.$disconnect()
  await started.stop()
})

const signedIn = inject('signedIn').fleet
const QUERY: WatchlistQuery = {
  ...BARE_QUERY,
  horizonDays: 90,
  standings: ['book'],
  sort: [{ column: 'chance', descending: true }],
}

/** The likeliest to fail of what is to be booked in: something speaks for it. */
const { unit, component } = await withOrganisation(database, organisationId(fleet!.id), async (scope) => {
  const [row] = await readWatchlist(scope, QUERY)
  const [component] = await readVehicleComponents(scope, row!.unit, QUERY.horizonDays)
  return { unit: row!.unit, component: component! }
})
const key = `${component.weakPoint}@${component.position}`
const vehicle = `${inject('address')}/vehicles/${encodeURIComponent(unit)}`
const address = `${vehicle}?open=${key}`

const sectionOf = (page: Page) =>
  page.locator('section', { has: page.getByRole('heading', { name: 'Why this chance' }) })

const numbersIn = (page: Page, selector: string) =>
  sectionOf(page)
    .locator(selector)
    .evaluateAll((all) => all.map((each) => Number(each.getAttribute('value'))))

test('an opened weak point says why, in five steps that end with its chance and add up to it', async () => {
  const page = await browser.newPage({ ...signedIn, javaScriptEnabled: false })
  await page.goto(address)
  const chances = await numbersIn(page, 'ol data')
  expect(chances).toHaveLength(5)
  expect(chances.at(-1)).toBe(component.pFail)
  const lead = await sectionOf(page).locator('h3 + p').textContent()
  expect(lead).toMatch(/^The library says .+ of such a vehicle\. Here it is .+ it most/)

  const table = sectionOf(page).locator('details table')
  expect(await table.locator('tbody th[scope="row"]').count()).toBe(5)
  const rows = await numbersIn(page, 'details tbody data')
  const [after, added] = [rows.filter((_, i) => i % 2 === 0), rows.filter((_, i) => i % 2 === 1)]
  expect(after).toEqual(chances)
  expect(Math.abs(added.reduce((a, b) => a + b, 0) - component.pFail)).toBeLessThan(1e-12)
  expect(await numbersIn(page, 'details tfoot data')).toEqual([component.pFail])
  await page.close()
})

test('what each record does is a link away, without script too, the greatest first', async () => {
  const page = await browser.newPage({ ...signedIn, javaScriptEnabled: false })
  await page.goto(address)
  const ask = sectionOf(page).getByRole('link', { name: /^What would change without/ })
  const records = Number(/([\d,]+) records/.exec((await ask.textContent()) ?? '')?.[1]?.replace(',', ''))
  expect(records).toBeGreaterThan(3)
  await ask.click()
  await page.waitForURL(/why=records/)
  const list = sectionOf(page).locator('#without')
  const said = await list.locator('p').first().textContent()
  expect(said).toContain(`Of ${records} records`)
  expect(said).toContain('These differences do not add up')
  const rows = await numbersIn(page, '#without tbody data')
  const [without, added] = [rows.filter((_, i) => i % 2 === 0), rows.filter((_, i) => i % 2 === 1)]
  expect(added.length).toBeGreaterThan(0)
  expect(added.map(Math.abs)).toEqual(added.map(Math.abs).toSorted((a, b) => b - a))
  for (const [i, change] of added.entries()) {
    expect(without[i]! + change).toBeCloseTo(component.pFail, 12)
    expect(Math.abs(change)).toBeGreaterThan(1e-4)
  }
  await list.getByRole('link', { name: 'Put this list away' }).click()
  await page.waitForURL((url) => !url.searchParams.has('why'))
  expect(await sectionOf(page).locator('#without').count()).toBe(0)
  await page.close()
})

test('the page of a vehicle asks for none of it until something is opened', async () => {
  const page = await browser.newPage(signedIn)
  await page.goto(vehicle)
  expect(await sectionOf(page).count()).toBe(0)
  await page.close()
})

test.each([
  { width: 1280, ground: 'light' },
  { width: 390, ground: 'dark' },
] as const)(
  'at $width on $ground axe finds nothing, and nothing runs out of the side',
  async ({ width, ground }) => {
    const context = await browser.newContext({
      ...signedIn,
      viewport: { width, height: 900 },
      colorScheme: ground,
    })
    const page = await context.newPage()
    await page.goto(`${address}&why=records`)
    await sectionOf(page).getByText('The steps in numbers').click()
    const { violations, passes } = await new AxeBuilder({ page }).analyze()
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([])
    expect(passes.length).toBeGreaterThan(10)
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width)
    await context.close()
  },
)
