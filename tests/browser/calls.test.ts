/** From the watchlist to a letter: counted, noted, and taken back. */
import { afterAll, expect, inject, test } from 'vitest'
import { launchChromium } from './chromium'

const browser = await launchChromium()
afterAll(() => browser.close())
const address = inject('address')
/** The letters of some hundred vehicles are worked out first, as long as pages need the processor less. */
const PATIENCE_MS = 300_000

test(
  'from the watchlist to a letter in two steps; it is noted as written, its customer gets no other, and it is undone',
  async () => {
    const page = await browser.newPage({ ...inject('signedIn').shop, viewport: { width: 1280, height: 900 } })
    await page.goto(`${address}/`)
    let steps = 0
    const step = (name: RegExp | string) => {
      steps++
      return page.getByRole('link', { name }).first().click()
    }
    await page.getByRole('navigation', { name: 'Pages' }).waitFor()
    await step('Calls')
    // What is not worked out yet comes by itself.
    await page
      .getByRole('link', { name: /^Letter about/ })
      .first()
      .waitFor({ timeout: PATIENCE_MS })
    await step(/^Letter about/)
    await page.getByRole('heading', { level: 1, name: /^About your vehicle/ }).waitFor()
    expect(steps).toBeLessThanOrEqual(3)
    const letter = await page.locator('article').textContent()
    for (const each of [
      'such vehicles left for three months',
      'spent for nothing',
      'may wait',
      'Mind:',
      'technician',
    ])
      expect(letter).toContain(each)
    const pdf = await page.request.get(page.url().replace(/letter$/, 'letter.pdf'))
    expect([pdf.status(), pdf.headers()['content-type']]).toEqual([200, 'application/pdf'])

    await page.getByRole('button', { name: 'It was written: note it' }).click()
    await page.getByRole('heading', { level: 1, name: /^No letter about/ }).waitFor()
    expect(await page.locator('main').textContent()).toContain('It is in hand: they were told')
    await page.locator('summary').filter({ hasText: 'Written' }).click()
    await page.getByRole('button', { name: 'Undo: it did not go out' }).click()
    await page.getByRole('heading', { level: 1, name: /^About your vehicle/ }).waitFor()
    await page.context().close()
  },
  PATIENCE_MS,
)
