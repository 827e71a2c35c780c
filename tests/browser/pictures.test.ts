import { afterAll, expect, inject, test } from 'vitest'
import { launchChromium } from './chromium'

const browser = await launchChromium()
afterAll(() => browser.close())
const signedIn = inject('signedIn').fleet

/** With PICTURES=docs/pictures they replace the ones in the documentation; else they only have to be takeable. */
const FOLDER = process.env.PICTURES

const PICTURES = [
  { name: 'watchlist', width: 1440, height: 900, ground: 'light' },
  { name: 'watchlist-dark', width: 1440, height: 900, ground: 'dark' },
  { name: 'watchlist-phone', width: 390, height: 844, ground: 'light' },
] as const

test.each(PICTURES)('a picture of $name', async ({ name, width, height, ground }) => {
  const context = await browser.newContext({ ...signedIn, viewport: { width, height }, colorScheme: ground })
  const page = await context.newPage()
  await page.goto(inject('address'), { waitUntil: 'networkidle' })
  const picture = await page.screenshot(FOLDER ? { path: `${FOLDER}/${name}.png` } : {})
  expect(picture.length).toBeGreaterThan(20_000)
  await context.close()
})
