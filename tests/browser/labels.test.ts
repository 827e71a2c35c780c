/** From a label to a confirmed report: printed, scanned by somebody who is not signed in, confirmed, and on the vehicle's page. */
import AxeBuilder from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, expect, inject, test } from 'vitest'
import { launchChromium } from './chromium'

const browser = await launchChromium()
afterAll(() => browser.close())
const address = inject('address')

async function axe(page: Page) {
  const { violations } = await new AxeBuilder({ page }).analyze()
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([])
  const { scrollWidth, innerWidth } = await page.evaluate(() => ({
    scrollWidth: document.documentElement.scrollWidth,
    innerWidth: window.innerWidth,
  }))
  expect(scrollWidth).toBeLessThanOrEqual(innerWidth)
}

test('a label is printed, tells the workshop without a sign-in, and what it told counts when it is confirmed', async () => {
  const dealer = inject('signedIn').dealer
  const inside = await browser.newContext({ ...dealer, viewport: { width: 1280, height: 900 } })
  const page = await inside.newPage()
  await page.goto(`${address}/labels`)
  await axe(page)
  // One of the demo's own, whose engine is known: other tests bring in more.
  const vehicles = page.getByRole('group', { name: 'Vehicles' })
  const first = vehicles.locator('input[type="checkbox"][name^="pick:S-"]').first()
  const unit = (await first.getAttribute('name'))!.replace(/^pick:/, '')
  await first.check()
  await page.getByRole('button', { name: 'Labels of the ticked ones' }).click()
  await page.getByRole('img', { name: `The code of ${unit}` }).waitFor()
  const pdf = await page.request.get(page.url().replace('/sheet?', '/sheet.pdf?'))
  expect([pdf.status(), pdf.headers()['content-type']]).toEqual([200, 'application/pdf'])
  const label = (await page.getByRole('listitem').filter({ hasText: '/q/' }).textContent())!
  const code = label.match(/\/q\/[\w-]{64}/)![0]

  const outside = await browser.newContext({ viewport: { width: 390, height: 844 }, colorScheme: 'dark' })
  const driver = await outside.newPage()
  await driver.goto(`${address}${code}`)
  await axe(driver)
  // Nothing leads anywhere else, and nothing is told of the vehicle but its number.
  expect(await driver.getByRole('link').count()).toBe(0)
  expect(await driver.locator('main').textContent()).toContain('Do not restart')
  await driver.getByRole('button', { name: 'Tell the workshop' }).click()
  await driver.getByText('This has to be mended first').waitFor()
  expect(await driver.getByRole('alert').getByRole('link').count()).toBe(2)
  await driver.getByLabel('a noise').check()
  await driver.getByLabel('Where and when, in a few words').fill('knocks uphill')
  await driver.getByRole('button', { name: 'Tell the workshop' }).click()
  await driver.getByText('Thank you, the workshop has it.').waitFor()
  expect((await driver.request.post(`${address}${code}`, { data: 'x'.repeat(40_000) })).status()).toBe(413)
  expect((await driver.goto(`${address}/q/${'A'.repeat(64)}`))?.status()).toBe(404)
  await outside.close()

  await page.goto(`${address}/vehicles/${unit}`)
  await page
    .getByRole('region', { name: 'A driver reports, not confirmed' })
    .getByRole('link')
    .first()
    .click()
  await page.getByRole('heading', { name: 'Confirm it' }).waitFor()
  await axe(page)
  await page.getByRole('group', { name: 'What was noticed' }).getByRole('checkbox').nth(1).check()
  await page.getByRole('button', { name: 'Confirm it in my name' }).click()
  await page.getByText('Confirmed in your name.').waitFor()
  await page.goto(`${address}/vehicles/${unit}`)
  const row = page.getByRole('row').filter({ hasText: 'knocks uphill' })
  await row.waitFor()
  expect(await page.getByRole('region', { name: 'A driver reports, not confirmed' }).count()).toBe(0)

  await page.goto(`${address}/reports`)
  await page.getByRole('button', { name: /^Undo/ }).first().click()
  await page.getByRole('link', { name: 'Confirm or set aside' }).waitFor()
  await page.goto(`${address}/digest`)
  await axe(page)
  await page.getByRole('link', { name: new RegExp(`^${unit}: “knocks uphill”`) }).click()
  await page.getByRole('heading', { name: 'Confirm it' }).waitFor()

  // Made anew, the old label opens nothing any more.
  await page.goto(`${address}/labels?only=${unit}`)
  await page.getByRole('group', { name: 'Vehicles' }).getByRole('checkbox').check()
  await page.getByRole('button', { name: 'Make those of the ticked ones anew' }).click()
  await page.getByRole('button', { name: 'Make it anew' }).click()
  await page.getByText('Made anew: the labels').waitFor()
  expect((await page.request.get(`${address}${code}`, { maxRedirects: 0 })).status()).toBe(404)
  await inside.close()
})
