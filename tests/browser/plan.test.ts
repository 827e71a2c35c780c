/**
 * The plan's way: bays are stated, the plan is made, a visit is moved by keyboard at the cost that is told, and that is
 * undone; out of date, another is proposed, taken, given back and left.
 */
import AxeBuilder from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, expect, inject, test } from 'vitest'
import { readPlanNow } from '@/lib/jobs/plan-now'
import { bookOtherWork } from '@/lib/jobs/say-on-plan'
import { openDatabase } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'
import { startDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'
import { askPlanProposal } from '@/lib/store/write/plan-proposal'
import { launchChromium } from './chromium'

const browser = await launchChromium()
const started = await startDatabase({ home: inject('home') })
const database = await openDatabase(started.url, { kind: 'command', name: 'test' })
afterAll(async () => {
  await browser.close()
  await database.$disconnect()
  await started.stop()
})

const ADDRESS = inject('address')
const PATIENCE_MS = 300_000

async function dealersPage(): Promise<Page> {
  const signedIn = inject('signedIn').dealer
  const context = await browser.newContext({ ...signedIn, viewport: { width: 1280, height: 900 } })
  return context.newPage()
}

async function withoutViolations(page: Page): Promise<void> {
  const { violations, passes } = await new AxeBuilder({ page }).analyze()
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([])
  expect(passes.length).toBeGreaterThan(10)
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(page.viewportSize()?.width)
}

test(
  'a plan is made, a visit moved by keyboard at the cost that was told, and moved back',
  async () => {
    const page = await dealersPage()
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

/** Other work takes all hours of the first visit's week; the night is asked for now. */
async function bookOverTheFirstWeek(): Promise<void> {
  const [, dealer] = await readOrganisations(database)
  await withOrganisation(
    database,
    organisationId(dealer!.id),
    async (scope) => {
      const by = { by: null, now: new Date() }
      const { visits, terms } = await readPlanNow(scope, by.now)
      const { weekOn } = visits[0]!.row
      for (const [bay, { hours }] of terms!.bays.entries())
        expect(await bookOtherWork(scope, { unit: null, what: 'Tyres', weekOn, bay, hours }, by)).toBe(true)
      await askPlanProposal(scope, by)
    },
    'write',
  )
}

test(
  'out of date it says by what; another is proposed, taken, given back, and left',
  async () => {
    const page = await dealersPage()
    await bookOverTheFirstWeek()
    await page.goto(`${ADDRESS}/plan`)
    // Others are at work on the dealer's vehicles meanwhile: a plan may be out of date by what they say, too.
    const byOtherWork = page.getByText(/Out of date since .+other work was booked/)
    await byOtherWork.waitFor()
    const proposed = page.getByRole('region', { name: 'What a new plan would change' })
    await expect
      .poll(
        async () => {
          await page.reload()
          return proposed.count()
        },
        { timeout: PATIENCE_MS, interval: 1000 },
      )
      .toBe(1)
    expect(await proposed.getByRole('row').count()).toBeGreaterThan(1)
    await withoutViolations(page)
    await page.setViewportSize({ width: 390, height: 844 })
    await withoutViolations(page)

    const placesOf = () =>
      page.locator('a[data-visit]').evaluateAll((visits) =>
        visits.map((visit) => {
          const [cell, row] = [visit.closest('td'), visit.closest('tr')]
          return `${visit.textContent} in ${row?.rowIndex}, ${cell?.cellIndex}`
        }),
      )
    const before = await placesOf()
    await proposed.getByRole('button', { name: 'Take this plan' }).press('Enter')
    await proposed.waitFor({ state: 'detached' })
    expect(await placesOf()).not.toEqual(before)
    const saidSince = await page.getByText('Out of date since').allTextContents()
    expect(saidSince.join()).not.toContain('other work was booked')
    await page.getByRole('button', { name: 'Undo' }).press('Enter')
    await proposed.waitFor()
    expect(await placesOf()).toEqual(before)

    await proposed.getByRole('button', { name: 'Leave the plan as it is' }).press('Enter')
    await proposed.waitFor({ state: 'detached' })
    expect(await placesOf()).toEqual(before)
    await byOtherWork.waitFor()
  },
  PATIENCE_MS,
)
