import AxeBuilder from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, expect, inject, test } from 'vitest'
import { launchChromium } from './chromium'

const browser = await launchChromium()
afterAll(() => browser.close())

const ADDRESS = inject('address')

async function withoutViolations(page: Page): Promise<void> {
  const { violations, passes } = await new AxeBuilder({ page }).analyze()
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([])
  expect(passes.length).toBeGreaterThan(10)
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(page.viewportSize()?.width)
}

/** All that the five forms make of what is typed is tested in tests/jobs/starter.test.ts. */
test('a range is said back and drawn while it is typed; kept, the form is empty for the next part', {
  timeout: 60_000,
}, async () => {
  const context = await browser.newContext({
    ...inject('signedIn').fleet,
    viewport: { width: 390, height: 844 },
  })
  const page = await context.newPage()
  const fill = (field: string, text: string) => page.locator(`input[name="${field}"]`).fill(text)
  await page.goto(`${ADDRESS}/families/new/starter`)
  await fill('name', 'Twite 2.2')
  await fill('cylinders', '4')
  await page.getByRole('button', { name: 'On to the first weak point' }).click()
  await page.getByRole('heading', { name: 'Weak point 1 of 5' }).waitFor()
  await fill('component', 'Timing chain')
  const said = page.locator('output')
  expect(await said.isVisible()).toBe(false)
  await fill('range', '80,000-140,000 km')
  await said.getByText('Of 100: 10 by').waitFor()
  expect(await said.locator('polyline').count()).toBe(1)
  await page.locator('input[name="confidence"][value="hunch"]').check()
  await withoutViolations(page)
  await page.getByRole('button', { name: /^Keep it/ }).click()
  await page.getByRole('heading', { name: 'Weak point 2 of 5' }).waitFor()
  expect(await page.locator('input[name="component"]').inputValue()).toBe('')
  await page.goto(page.url().replace(/\/starter\/.*/, '/starter'))
  await page.getByRole('heading', { name: 'Twite 2.2: one weak point stated' }).waitFor()
  await withoutViolations(page)
  await context.close()
})
