/** The stock as a dealer goes through it: from the list to the paper, and to a bid. */
import { afterAll, expect, inject, test } from 'vitest'
import { launchChromium } from './chromium'
import { CountedWay } from './counted-way'

const browser = await launchChromium()
afterAll(() => browser.close())
const ADDRESS = inject('address')

test('a stock sheet is at most three steps from the watchlist, and one from the stock', async () => {
  const page = await browser.newPage(inject('signedIn').dealer)
  await page.goto(`${ADDRESS}/?status=stock`)
  const way = new CountedWay(page)
  await way.press(page.locator('tbody tr[data-unit] th a').first())
  await way.press(page.getByRole('link', { name: 'Stock sheet', exact: true }))
  await page.getByRole('heading', { level: 1, name: /^Stock sheet: / }).waitFor()
  expect(way.steps).toBeLessThanOrEqual(3)

  await page.goto(`${ADDRESS}/stock?sort=unit`)
  const first = page.locator('tbody tr[data-unit]').first()
  const unit = await first.getAttribute('data-unit')
  expect(await page.locator('th[aria-sort="ascending"]').textContent()).toMatch(/^Vehicle/)
  await first.getByRole('link', { name: 'Stock sheet' }).click()
  await page.getByRole('heading', { level: 1, name: `Stock sheet: ${unit}` }).waitFor()

  await page.goto(`${ADDRESS}/bid?unit=${unit}&retail=9000&margin=900`)
  expect(await page.getByRole('region', { name: 'The most to bid' }).textContent()).toMatch(
    /Bid (at most|nothing)/,
  )
  await page.close()
})
