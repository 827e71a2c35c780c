import { randomUUID } from 'node:crypto'
import AxeBuilder from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, inject, test } from 'vitest'
import { launchChromium } from './chromium'

const ADDRESS = inject('address')
const browser = await launchChromium()
const signedIn = inject('signedIn').dealer
const WIDE = { width: 1280, height: 900 }
const PHONE = { width: 390, height: 844 }
let page: Page
beforeAll(async () => {
  page = await (await browser.newContext({ ...signedIn, viewport: WIDE })).newPage()
})
afterAll(() => browser.close())

const aNumber = () => `L-${randomUUID().slice(0, 8)}`
const head = () => page.locator('main header')
const section = () => page.locator('#enter')
const combined = () => page.locator('main header p', { hasText: 'Chance that something fails' })

/** Makes a vehicle, and waits until it is scored. */
async function aVehicle(unit = aNumber()): Promise<string> {
  await page.goto(`${ADDRESS}/new-vehicle`)
  await page.getByLabel('Stock no.').fill(unit)
  await page.getByLabel('Engine', { exact: true }).selectOption({ label: 'Plover 1.6 turbo petrol' })
  await page.getByLabel('The odometer says').fill('120 000')
  await page.getByRole('button', { name: 'Add it' }).click()
  await page.waitForURL(`**/vehicles/${unit}*`)
  await combined().waitFor()
  return unit
}

const open = (unit: string, form: string) =>
  page.goto(`${ADDRESS}/vehicles/${encodeURIComponent(unit)}?enter=${form}`)

/** Sends the form, and waits for the answer: what an earlier one said may still be there. */
async function send(button: string) {
  const answered = page.waitForResponse((response) => response.request().method() === 'POST')
  await section().getByRole('button', { name: button }).click()
  await answered
  await section().getByRole('status').waitFor()
}

/** On a busy machine what was done may take a while to be shown. */
const eventually = <T>(ask: () => Promise<T>) => expect.poll(ask, { timeout: 20_000 })

async function undo() {
  await section().getByRole('status').getByRole('button', { name: 'Undo' }).click()
  await section().getByText('Undone: it is as it was before.').waitFor()
}

test('a sold vehicle under cover is scored like stock and says so; without cover, or retired, it is not; undone, it is as before', async () => {
  const unit = await aVehicle()
  await open(unit, 'status')
  const before = await combined().textContent()
  await section().getByLabel('sold', { exact: true }).check()
  await section().getByLabel('Sold under cover: until').fill('2099-03-14')
  await section().getByLabel('and up to an odometer of').fill('200 000')
  await send('Say so')
  await head()
    .getByText(/^Sold on .*, under cover until .* 2099 and up to .*: scored like stock until then\.$/)
    .waitFor()
  expect(await combined().count()).toBe(1)

  await section().getByLabel('Sold under cover: until').fill('')
  await section().getByLabel('and up to an odometer of').fill('')
  await send('Say so')
  await head()
    .getByText(/^Sold on .* without cover, so it is not scored any more\.$/)
    .waitFor()
  expect(await combined().count()).toBe(0)
  await undo()
  await head()
    .getByText(/scored like stock until then/)
    .waitFor()

  await section()
    .getByLabel(/^retired/)
    .check()
  await section().getByLabel('Sold or retired on').fill('2099-01-01')
  await section().getByRole('button', { name: 'Say so' }).click()
  await section()
    .getByRole('alert')
    .getByText(/has not come yet/)
    .waitFor()
  await section().getByLabel('Sold or retired on').fill('2026-03-14')
  await send('Say so')
  await head()
    .getByText(/^Retired on .*, so it is not scored any more\.$/)
    .waitFor()

  await section().getByLabel('in use', { exact: true }).check()
  await send('Say so')
  await eventually(() => combined().textContent()).toBe(before)
  expect(
    await head()
      .getByText(/Sold|Retired/)
      .count(),
  ).toBe(0)
})

test('a new owner stands alone on the page: the way to reach the one before is nowhere in it; undone, it is back', async () => {
  const unit = await aVehicle()
  const set = async (which: RegExp, customer: string, contact: string) => {
    await section().getByLabel(which).check()
    await section().getByLabel('Whose it is').fill(customer)
    await section().getByLabel('How to reach them').fill(contact)
    await send('Change whose it is')
  }
  await open(unit, 'owner')
  await set(/put right/, 'The first', 'first@post')
  await head()
    .getByText(/The first · first@post/)
    .waitFor()
  await section().getByLabel('A new owner: from').fill('2026-03-14')
  await set(/it has a new owner/, 'The second', '')
  await head()
    .getByText(/The second/)
    .waitFor()
  for (const form of ['owner', 'facts', 'status', 'reading']) {
    await open(unit, form)
    expect(await page.content()).not.toMatch(/first@post|The first/)
  }
  await page.getByRole('row').filter({ hasText: 'New owner' }).waitFor()
  await open(unit, 'owner')
  await set(/it has a new owner/, 'The third', 'third@post')
  await undo()
  await head()
    .getByText(/The second/)
    .waitFor()
  await page.locator('del', { hasText: 'New owner' }).waitFor()
  expect(await page.locator('td > span', { hasText: 'New owner' }).count()).toBe(1)
})

test('what the vehicle is can be changed, made blank, and undone', async () => {
  const unit = await aVehicle()
  await open(unit, 'facts')
  await section().getByLabel('Where it is kept').fill('Reed Yard')
  await send('Change the vehicle')
  await head()
    .getByText(/Reed Yard/)
    .waitFor()
  await section().getByLabel('Where it is kept').fill('')
  await send('Change the vehicle')
  await eventually(() =>
    head()
      .getByText(/Reed Yard/)
      .count(),
  ).toBe(0)
  await undo()
  await head()
    .getByText(/Reed Yard/)
    .waitFor()
})

test('a changed engine says what it means, moves the score at once, and is undone', async () => {
  const unit = await aVehicle()
  await open(unit, 'change')
  const before = await combined().textContent()
  await section()
    .getByLabel(/^used engine/)
    .check()
  await section().getByLabel('A used engine had run').fill('60 000')
  await send('Enter the change')
  const outcome = section().getByRole('status')
  await outcome.getByText(/^Used engine: every weak point goes on at what that engine had run/).waitFor()
  await outcome
    .getByText(/about .+ → about .+ within 90 days/)
    .first()
    .waitFor()
  await eventually(() => combined().textContent()).not.toBe(before)
  await page
    .getByRole('row')
    .filter({ hasText: /Used engine, it had run 60/ })
    .waitFor()
  await outcome.getByRole('button', { name: 'Undo' }).click()
  await outcome.getByText('Taken back').waitFor()
  await eventually(() => combined().textContent()).toBe(before)

  await section()
    .getByLabel(/^new instrument cluster/)
    .check()
  await section().getByLabel('A used engine had run').fill('60 000')
  await section().getByRole('button', { name: 'Enter the change' }).click()
  await section()
    .getByRole('alert')
    .getByText(/Only a used engine/)
    .waitFor()
  await section().getByLabel('A used engine had run').fill('')
  await section()
    .getByLabel(/With a new instrument/)
    .fill('120 000')
  await send('Enter the change')
  await outcome.getByText(/^New instrument cluster: the engine is as old as it was/).waitFor()
})

test('the number of a sold vehicle is used again after a question; the one before keeps its records; undone, it is as it was', async () => {
  const unit = await aVehicle()
  await open(unit, 'status')
  await section().getByLabel('sold', { exact: true }).check()
  await section().getByLabel('Sold or retired on').fill('2026-03-14')
  await send('Say so')
  await head()
    .getByText(/^Sold on/)
    .waitFor()

  const addAgain = async () => {
    await page.goto(`${ADDRESS}/new-vehicle`)
    await page.getByLabel('Stock no.').fill(unit)
    await page.getByLabel('The odometer says').fill('7 000')
    await page.getByRole('button', { name: 'Add it' }).click()
    const question = page.getByRole('alert')
    await question.getByText(`There was a ${unit} already, sold on`).waitFor()
    await question.getByRole('button', { name: `Use ${unit} again` }).click()
    await page.getByRole('status').getByText(`“${unit} (until 2026-03-14)”`).waitFor()
  }
  await addAgain()
  await page.getByRole('status').getByRole('button', { name: 'Undo' }).click()
  await page.getByText(`Undone: ${unit} is the vehicle that it was before.`).waitFor()
  await open(unit, 'reading')
  await head()
    .getByText(/^Sold on/)
    .waitFor()

  await addAgain()
  await page.getByRole('link', { name: `Open ${unit}` }).click()
  await page.waitForURL(`**/vehicles/${unit}*`)
  await head()
    .getByText(/^7.000.km/)
    .waitFor()
  await open(`${unit} (until 2026-03-14)`, 'reading')
  await head()
    .getByText(/^Sold on/)
    .waitFor()
  await page
    .getByRole('row')
    .filter({ hasText: /120.000.km/ })
    .first()
    .waitFor()
})

test('the number of a vehicle that is there is not taken', async () => {
  const unit = await aVehicle()
  await page.goto(`${ADDRESS}/new-vehicle`)
  await page.getByLabel('Stock no.').fill(unit)
  await page.getByRole('button', { name: 'Add it' }).click()
  await page.getByRole('alert').getByText(`There is a ${unit} already`).waitFor()
})

test('two that are one: facts chosen side by side, records of both in one list, and parted again', async () => {
  const [other, unit] = [await aVehicle(), await aVehicle()]
  await open(other, 'codes')
  await section().getByLabel('Trouble codes').fill('p0302')
  await send('Enter the codes')
  await open(other, 'facts')
  await section().getByLabel('Plate').fill('ZZ 77')
  await send('Change the vehicle')

  await open(unit, 'reading')
  const before = await combined().textContent()
  await section().getByRole('link', { name: 'The same as another' }).click()
  await page.waitForURL(/\/same$/)
  const showBoth = async (number: string) => {
    await page.getByLabel('The other’s number').fill(number)
    await page.getByRole('button', { name: 'Show both' }).click()
  }
  await showBoth('no-such-number')
  await page.getByRole('alert').filter({ hasText: 'There is no vehicle no-such-number' }).waitFor()
  await showBoth(other)
  const plates = page.getByRole('group', { name: 'Plate' })
  await plates.getByLabel(`${unit}: nothing`).waitFor()
  expect(await plates.getByLabel(`${other}: ZZ 77`).isChecked()).toBe(true)
  for (const viewport of [PHONE, WIDE]) {
    await page.setViewportSize(viewport)
    await expectNoFaults(viewport.width)
  }
  await page.getByRole('button', { name: `Make them one: ${unit}` }).click()
  const outcome = page.getByRole('status')
  // Both were made on one day at one odometer: that reading is on both.
  await outcome
    .getByText(`${other} is one with ${unit} now. 1 of its records moved here; 1 was on both`)
    .waitFor()
  await outcome
    .getByText(/about .+ → about .+ within 90 days/)
    .first()
    .waitFor()

  await open(unit, 'reading')
  await head()
    .getByText(/^ZZ 77/)
    .waitFor()
  await page.getByRole('row').filter({ hasText: 'P0302' }).waitFor()
  expect(await combined().textContent()).not.toBe(before)
  await page.goto(`${ADDRESS}/vehicles/${other}`) // its old number leads on
  expect(new URL(page.url()).pathname).toBe(`/vehicles/${encodeURIComponent(unit)}`)

  await page.goto(`${ADDRESS}/vehicles/${unit}/same`)
  await page.getByRole('button', { name: `Part ${other} again` }).click()
  await page.getByRole('status').getByText(`${other} is a vehicle of its own again.`).waitFor()
  await page.getByRole('link', { name: `Open ${other}` }).click()
  await page.waitForURL(`**/vehicles/${other}`)
  await head()
    .getByText(/^ZZ 77/)
    .waitFor()
  await open(unit, 'reading')
  await eventually(() => combined().textContent()).toBe(before)
})

test('a record moves to another vehicle by its number, and back', async () => {
  const [other, unit] = [await aVehicle(), await aVehicle()]
  await open(unit, 'codes')
  const before = await combined().textContent()
  await section().getByLabel('Trouble codes').fill('p0302')
  await send('Enter the codes')
  await eventually(() => combined().textContent()).not.toBe(before)
  await page
    .getByRole('row')
    .filter({ hasText: 'P0302' })
    .getByRole('link', { name: 'Correct' })
    .press('Enter')
  const number = section().getByLabel('Vehicle', { exact: true })
  await number.fill('no-such-number')
  await section().getByRole('button', { name: 'Correct it' }).click()
  await section().getByRole('alert').getByText('There is no vehicle no-such-number').waitFor()
  await number.fill(other)
  await section().getByRole('button', { name: 'Correct it' }).click()
  const outcome = section().getByRole('status')
  await outcome.getByText(`Moved to ${other}.`).waitFor()
  await eventually(() => combined().textContent()).toBe(before)
  await page.locator('del', { hasText: 'P0302' }).waitFor()

  const there = await page.context().newPage()
  await there.goto(`${ADDRESS}/vehicles/${other}`)
  expect(await there.locator('td > span', { hasText: 'P0302' }).count()).toBe(1)
  await outcome.getByRole('button', { name: 'Undo' }).click()
  await section().getByText('The correction is undone.').waitFor()
  await eventually(() => combined().textContent()).not.toBe(before)
  await there.reload()
  expect(await there.locator('td > span', { hasText: 'P0302' }).count()).toBe(0)
  await there.close()
})

/** Every form in the long tests; of the four, which are made alike, the one with most fields in the short ones. */
const FORMS = process.env.LONG_TESTS ? ['status', 'owner', 'facts', 'change'] : ['facts']

test.each(FORMS)('the form %s has no faults for axe, wide and on a phone', async (form) => {
  const unit = await aVehicle()
  for (const viewport of [PHONE, WIDE]) {
    await page.setViewportSize(viewport)
    await open(unit, form)
    await expectNoFaults(viewport.width)
  }
})

async function expectNoFaults(width: number) {
  const { violations } = await new AxeBuilder({ page }).analyze()
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([])
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width)
}
