/** The plan's way: bays are stated, the plan is made, a visit is moved by keyboard at the cost that is told, and that is undone. */
import AxeBuilder from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, expect, inject, test } from 'vitest'
import { launchChromium } from './chromium'

const browser = await launchChromium()
afterAll(() => browser.close())

const ADDRESS = inject('address')
const PATIENCE_MS = 300_000

async function withoutViolations(page: Page): Promise<void> {
  const { violations, passes } = await new AxeBuilder({ page }).analyze()
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([])
  expect(passes.length).toBeGreaterThan(10)
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(page.viewportSize()?.width)
}

test(
  'a plan is made, a visit moved by keyboard at the cost that was told, and moved back',
  async () => {
    const signedIn = inject('signedIn').dealer
    const page = await (
      await browser.newContext({ ...signedIn, viewport: { width: 1280, height: 900 } })
    ).newPage()
    await page.goto(ADDRESS)
    await page.getByRole('link', { name: 'Plan', exact: true }).click()
    await page.getByText('Say first which bays there are').waitFor()
    for (const [i, name] of ['Hall', 'Pit'].entries()) {
      await page.locator(`[name=name${i}]`).fill(name)
      await page.locator(`[name=hours${i}]`).fill('38')
    }
    await page.getByRole('button', { name: 'Keep it' }).click()
    await page.getByRole('button', { name: 'Make the plan' }).click()
    const visits = page.locator('a[data-visit]')
    await visits.first().waitFor({ timeout: PATIENCE_MS })
    await withoutViolations(page)

    await visits.first().focus()
    await page.keyboard.press('Enter')
    await page.getByRole('heading', { name: 'Why it is here' }).waitFor()
    const heading = await page.locator('#visit-heading').textContent()
    await page.setViewportSize({ width: 390, height: 844 })
    await withoutViolations(page)
    const places = page.getByRole('button', { name: /^Move here/ })
    await places.first().focus()
    await page.keyboard.press('ArrowDown')
    const told = await page.evaluate(() => document.activeElement?.textContent)
    expect(told).toMatch(/^Move here: (costs|gains)/)
    await page.keyboard.press('Enter')
    const last = page.getByRole('status').filter({ hasText: 'is moved to' })
    await last.waitFor()
    const cost = told!.replace('Move here: ', '')
    expect(await last.textContent()).toContain(`That ${cost}.`)
    await last.getByRole('button', { name: 'Undo' }).press('Enter')
    await last.waitFor({ state: 'detached' })
    await visits.first().click()
    expect(await page.locator('#visit-heading').textContent()).toBe(heading)
  },
  PATIENCE_MS,
)
