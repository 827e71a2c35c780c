/**
 * Questions as people come with them, from the watchlist to what answers them on paper or in a file: which visits these
 * hours pay for, which looks to make first, what parts to order, what the coming quarter may cost.
 */
import type { Page } from 'playwright-core'
import { afterAll, expect, inject, test } from 'vitest'
import { launchChromium } from './chromium'
import { CountedWay } from './counted-way'

const browser = await launchChromium()
afterAll(() => browser.close())
const ADDRESS = inject('address')
/** What is worked out beside the page comes as long as other pages need the processor less. */
const PATIENCE_MS = 300_000
/** Money is reckoned last, by a process that yields to everything else. */
const PATIENCE_WITH_MONEY_MS = 2 * PATIENCE_MS
/** From the watchlist to a paper, at most. */
const MOST_STEPS = 3

async function atTheWatchlist(width = 1280): Promise<{ page: Page; way: CountedWay }> {
  const page = await browser.newPage({ ...inject('signedIn').fleet, viewport: { width, height: 900 } })
  await page.goto(ADDRESS)
  return { page, way: new CountedWay(page) }
}
const pageLink = (page: Page, name: string) =>
  page.getByRole('navigation', { name: 'Pages' }).getByRole('link', { name, exact: true })
const sortedBy = (page: Page) => page.locator('th[aria-sort]').first()

test(
  'which visits do 40 hours pay for: ranked, cut off at the line, sorted by keyboard, and a job card in two steps',
  async () => {
    const { page, way } = await atTheWatchlist()
    await way.press(pageLink(page, 'Visits'))
    const cards = page.getByRole('link', { name: 'Job card', exact: true })
    await cards.first().waitFor({ timeout: PATIENCE_MS })
    await way.press(cards.first())
    await page.getByRole('heading', { level: 1, name: /^Job card/ }).waitFor()
    expect(way.steps).toBeLessThanOrEqual(MOST_STEPS)
    expect(await page.locator('article').textContent()).toContain('technician')
    const pdf = await page.request.get(page.url().replace(/job-card.*$/, 'job-card.pdf'))
    expect([pdf.status(), pdf.headers()['content-type']]).toEqual([200, 'application/pdf'])

    await page.goto(`${ADDRESS}/visits`)
    await page.getByLabel(/^Hours/).fill('40')
    await page.getByRole('button', { name: 'Rank them' }).click()
    await page.waitForURL(/hours=40/)
    const line = page.getByRole('cell', { name: /^Here the 40 hours run out/ })
    await line.waitFor({ timeout: PATIENCE_MS })
    await page.getByRole('columnheader', { name: 'Vehicle' }).getByRole('link').press('Enter')
    await page.waitForURL(/sort=unit/)
    await expect.poll(() => sortedBy(page).getAttribute('aria-sort')).toBe('ascending')
    expect(await sortedBy(page).textContent()).toBe('Vehicle')
    await page.goBack()
    await line.waitFor()
    await page.close()
  },
  PATIENCE_MS,
)

test('which looks first, with six hours: a sheet to take along in three steps and a field, and the order in the address', async () => {
  const { page, way } = await atTheWatchlist()
  await way.press(pageLink(page, 'Looks'))
  const sheet = page.getByRole('form', { name: 'Looks worth making' }).locator('tbody td a').first()
  await way.press(sheet)
  await page.getByRole('heading', { level: 1, name: /^Look sheet/ }).waitFor()
  expect(way.steps).toBeLessThanOrEqual(MOST_STEPS)

  await page.goto(`${ADDRESS}/looks`)
  const all = await page.getByRole('form', { name: 'Looks worth making' }).locator('tbody tr').count()
  await page.getByLabel('Hours for looking').fill('6')
  await page.getByRole('button', { name: 'Which first?' }).click()
  await page.waitForURL(/hours=6/)
  const rows = page.getByRole('form', { name: 'Looks worth making' }).locator('tbody tr')
  await expect.poll(() => rows.count()).toBeLessThan(all)
  await page.goto(`${page.url()}&sort=unit`)
  const units = await rows.locator('th a').allTextContents()
  expect(units).toEqual([...units].sort(new Intl.Collator('en', { numeric: true }).compare))
  const csv = await page.request.get(`${ADDRESS}/looks.csv?hours=6`)
  expect((await csv.text()).trim().split('\n')).toHaveLength(units.length + 1)
  await page.close()
})

test('what parts to order: the list by what is needed, one opened with its vehicles, and the file of the order', async () => {
  const { page, way } = await atTheWatchlist(390)
  await way.press(pageLink(page, 'Parts'))
  await page.getByRole('navigation', { name: 'Weeks ahead' }).getByRole('link', { name: '13 weeks' }).click()
  await page.waitForURL(/weeks=13/)
  // At the width of a telephone the headings are a strip above the cards, and sort as well.
  await page.getByRole('link', { name: 'Needed in 13 weeks' }).press('Enter')
  await page.waitForURL(/sort=-mean/)
  const first = page.locator('tbody tr').first()
  const part = await first.getByRole('rowheader').getByRole('link').textContent()
  await first.getByRole('rowheader').getByRole('link').click()
  await page.getByRole('heading', { name: 'For which vehicles' }).waitFor()
  expect(await page.locator('#open').getByRole('rowheader').getByRole('link').textContent()).toBe(part)
  const csv = await page.request.get(`${ADDRESS}/parts.csv?weeks=13`)
  expect(csv.headers()['content-type']).toContain('text/csv')
  expect(await csv.text()).toContain(part!)
  await page.close()
})

test(
  'what the coming quarter may cost: by weak point, the policies of one in a press, and the same as a file',
  async () => {
    const { page, way } = await atTheWatchlist()
    await way.press(pageLink(page, 'Policy and money'))
    await page.waitForURL(/\/money/)
    const byPoint = page.getByRole('region', { name: 'The coming quarter by weak point' })
    // It is reckoned in the background, where nobody waits: who comes early looks again.
    await expect
      .poll(
        async () => {
          if (!(await byPoint.isVisible())) await page.reload()
          return byPoint.isVisible()
        },
        { timeout: PATIENCE_WITH_MONEY_MS - 30_000, interval: 2000 },
      )
      .toBe(true)
    const point = byPoint.locator('tbody th a').nth(1)
    const name = await point.textContent()
    await way.press(point)
    const policies = page.getByRole('region', { name: /^Policies for one weak point/ })
    await expect.poll(() => policies.getByRole('heading').first().textContent()).toContain(name!)
    expect(way.steps).toBeLessThanOrEqual(MOST_STEPS)
    expect(await policies.textContent()).toContain('By signs and score')
    const csv = await page.request.get(`${ADDRESS}/money.csv`)
    expect(await csv.text()).toContain(name!)
    await page.close()
  },
  PATIENCE_WITH_MONEY_MS,
)
