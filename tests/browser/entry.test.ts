import { randomUUID } from 'node:crypto'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, inject, test } from 'vitest'
import { launchChromium } from './chromium'

const ADDRESS = inject('address')
const UNIT = `T-${randomUUID().slice(0, 8)}`
const browser = await launchChromium()
const signedIn = inject('signedIn').dealer
/** As the dealer's locale writes numbers. */
const inFigures = (count: number) => new Intl.NumberFormat('en-CH').format(count)
let page: Page
beforeAll(async () => {
  page = await browser.newPage({ ...signedIn, viewport: { width: 1280, height: 900 } })
})
afterAll(() => browser.close())

const enter = (on: Page) => on.getByRole('region', { name: 'Enter what happened' })

test('a new vehicle is there, and scored, after four answers', async () => {
  await page.goto(`${ADDRESS}/new-vehicle`)
  await page.getByLabel('Stock no.').fill(UNIT)
  await page.getByLabel('Engine', { exact: true }).selectOption({ label: 'Plover 1.6 turbo petrol' })
  await page.getByLabel('The odometer says').fill('120 000')
  await page.getByRole('button', { name: 'Add it' }).click()
  await page.waitForURL(`**/vehicles/${UNIT}*`)
  expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe(UNIT)
  await page.getByText(/Chance that something fails within 90 days/).waitFor()
})

test('a code moves the score at once and says by how much; undone, it is as before', async () => {
  await page.goto(`${ADDRESS}/vehicles/${UNIT}?enter=codes`)
  const combined = () =>
    page.locator('main header p', { hasText: 'Chance that something fails' }).textContent()
  const before = await combined()
  await enter(page).getByLabel('Trouble codes').fill('p0302')
  await enter(page).getByRole('button', { name: 'Enter the codes' }).click()
  const outcome = enter(page).getByRole('status')
  await outcome
    .getByText(/about .+ → about .+ within 90 days/)
    .first()
    .waitFor()
  await expect.poll(combined).not.toBe(before)
  await outcome.getByRole('button', { name: 'Undo' }).click()
  await outcome.getByText('Taken back').waitFor()
  await expect.poll(combined).toBe(before)
})

test('a reading is entered without script', async () => {
  const context = await browser.newContext({ ...signedIn, javaScriptEnabled: false })
  const plain = await context.newPage()
  await plain.goto(`${ADDRESS}/vehicles/${UNIT}?enter=reading`)
  await enter(plain)
    .getByLabel(/odometer/i)
    .fill('120.300')
  await enter(plain).getByRole('button', { name: 'Enter the reading' }).click()
  await enter(plain).getByRole('status').waitFor()
  expect(await enter(plain).getByRole('status').textContent()).toContain(inFigures(120_300))
  expect(await plain.locator('main header').textContent()).toContain(inFigures(120_300))
  await context.close()
})

test('a reading lower than the last is asked about, and may be kept', async () => {
  await page.goto(`${ADDRESS}/vehicles/${UNIT}?enter=reading`)
  await enter(page)
    .getByLabel(/odometer/i)
    .fill('110.000')
  await enter(page).getByRole('button', { name: 'Enter the reading' }).click()
  const question = enter(page).getByRole('alert')
  expect(await question.textContent()).toContain(inFigures(120_300))
  await question.getByRole('button').click()
  await enter(page).getByRole('status').waitFor()
  expect(await enter(page).getByRole('status').textContent()).toContain(inFigures(110_000))
})

test('what cannot be read keeps what was typed and says what to do', async () => {
  await page.goto(`${ADDRESS}/vehicles/${UNIT}?enter=codes`)
  await enter(page).getByLabel('Trouble codes').fill('hello')
  await enter(page).getByRole('button', { name: 'Enter the codes' }).click()
  expect(await enter(page).getByRole('alert').textContent()).toContain('Type or paste the codes')
  expect(await enter(page).getByLabel('Trouble codes').inputValue()).toBe('hello')
})

test('a record is put right by choosing words, which moves the score, and the correction is undone', async () => {
  await page.goto(`${ADDRESS}/vehicles/${UNIT}?enter=repair&weak-point=timing-chain`)
  await enter(page)
    .getByLabel(/odometer/i)
    .fill('120 310')
  await enter(page).getByLabel('replaced', { exact: true }).check()
  await enter(page).getByRole('button', { name: 'Enter the repair' }).click()
  await enter(page).getByRole('status').waitFor()
  const row = page.getByRole('row').filter({ hasText: 'replaced' }).first()
  await row.getByRole('link', { name: 'Correct' }).press('Enter')
  const form = page.getByRole('region', { name: 'Correct a record' })
  await form.getByLabel('What was done').selectOption({ label: 'opened and looked at' })
  await form.getByRole('button', { name: 'Correct it' }).click()
  const outcome = form.getByRole('status')
  await outcome.getByText('Corrected. What stood there stays to be seen below.').waitFor()
  // What no longer counts stays in the list, struck out.
  const inForce = () => page.locator('td > span', { hasText: 'opened and looked at' }).count()
  expect(await inForce()).toBe(1)
  await outcome.getByRole('button', { name: 'Undo' }).click()
  await page.getByText('The correction is undone.').waitFor()
  await expect.poll(inForce).toBe(0)
})

test('whoever must not drive is told: the notice stands above the list until then', async () => {
  await page.goto(ADDRESS)
  const notices = page.getByRole('region', { name: /not been told yet/ }).getByRole('listitem')
  const untold = await notices.count()
  expect(untold).toBeGreaterThan(0)
  await notices.first().getByRole('link').click()
  await page.waitForURL(/\/vehicles\//)
  await page
    .getByLabel(/Who was told/)
    .first()
    .fill('The driver, by telephone')
  await page.getByRole('button', { name: 'Told' }).first().click()
  await page
    .getByText(/The driver, by telephone/)
    .first()
    .waitFor()
  await page.goto(ADDRESS)
  await expect.poll(() => notices.count()).toBe(untold - 1)
})
