/** What is known of an engine, from a library file to its second version: brought in, learned, weighed, changed, compared. */
import AxeBuilder from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, describe, expect, inject, test } from 'vitest'
import type { Records } from '@/lib/records/rows'
import { openDatabase } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'
import { startDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { addReplay } from '@/lib/store/write/add-replay'
import { stopReplay } from '@/lib/store/write/ask-replay'
import { dayIn } from '@/lib/units/dates'
import { EXAMPLE_LIBRARY } from '../records/example-library'
import { readingRow, recordsOf, repairRow, vehicleRow } from '../simulation/record-rows'
import { launchChromium } from './chromium'

const started = await startDatabase({ home: inject('home') })
const database = await openDatabase(started.url, { kind: 'command', name: 'test' })
const browser = await launchChromium()
const ADDRESS = inject('address')
const OWN = 'Marsh Cabs'
const context = await browser.newContext({ viewport: { width: 1280, height: 900 } })
const page = await context.newPage()
afterAll(async () => {
  await browser.close()
  await database.$disconnect()
  await started.stop()
})

const PATIENCE = { timeout: 240_000 }
const FAMILY = `${ADDRESS}/families/plover-22`
const press = (name: string | RegExp) =>
  page.getByRole('button', { name, exact: typeof name === 'string' }).click()

async function withoutViolations(some: Page = page): Promise<void> {
  const { violations, passes } = await new AxeBuilder({ page: some }).analyze()
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([])
  expect(passes.length).toBeGreaterThan(10)
  const width = some.viewportSize()?.width
  expect(await some.evaluate(() => document.documentElement.scrollWidth)).toBe(width)
}

/** The same page on a telephone and in the dark. */
async function onOtherScreens(): Promise<void> {
  for (const screen of [
    { viewport: { width: 390, height: 844 } },
    { viewport: { width: 1280, height: 900 }, colorScheme: 'dark' as const },
  ]) {
    const other = await browser.newContext({ ...screen, storageState: await context.storageState() })
    const shown = await other.newPage()
    await shown.goto(page.url())
    await withoutViolations(shown)
    await other.close()
  }
}

const words = async (selector: string) => (await page.locator(selector).first().textContent()) ?? ''

async function bringIn(name: string, content: string): Promise<void> {
  await page.goto(`${ADDRESS}/families`)
  const file = { name, mimeType: 'application/json', buffer: Buffer.from(content) }
  await page.getByLabel('Bring in a library file').setInputFiles(file)
  await press('Look it over')
  await page.waitForURL(/\/intake\/[0-9a-f-]{36}$/)
}

describe('a library file on the page of families', () => {
  test('is refused in words where it is none, or says what cannot be', PATIENCE, async () => {
    await page.goto(`${ADDRESS}/door`)
    await page.getByLabel('Name of the organisation').fill(OWN)
    await page.getByLabel('Currency').selectOption('EUR')
    await page.locator('input[name=distance][value=km]').check()
    await page.getByLabel('Your name').fill('Teal Sedgwick')
    await press('Start it')
    await page.waitForURL((url) => !url.pathname.startsWith('/door'))

    await bringIn('photo.json', '{"not": "a library"}')
    await page.getByText('of no known kind').waitFor()
    const [family] = EXAMPLE_LIBRARY.families
    const wrong = { ...EXAMPLE_LIBRARY, families: [{ ...family, cylinders: 'four' }] }
    await bringIn('library.json', JSON.stringify(wrong))
    expect(await words('tbody')).toMatch(/Nothing of it goes in: families\[plover-22\]\.cylinders: /)
    await page.goto(`${ADDRESS}/families`)
    await page.getByText('Nothing is known of any engine yet').waitFor()
  })

  test('shows what it changes before it comes into force', PATIENCE, async () => {
    await bringIn('library.json', JSON.stringify(EXAMPLE_LIBRARY))
    expect(await words('section[aria-labelledby=library]')).toContain('Plover 2.2: new')
    await withoutViolations()
    await page.goto(`${ADDRESS}/families`)
    await page.getByText('Nothing is known of any engine yet').waitFor()
    await page.goBack()
    await press(/^Bring in/)
    await page.getByRole('heading', { name: 'These are in' }).waitFor()
    await page.goto(`${ADDRESS}/families`)
    expect(await words('tbody tr')).toContain('Plover 2.2')
  })
})

describe('what the records taught', () => {
  test('stands as a curve with what was counted, and lives by how they ended', PATIENCE, async () => {
    await addFleet()
    await page.goto(`${ADDRESS}/families`)
    await press('Learn from the records')
    await page.getByText(/^Learned on/).waitFor({ timeout: 120_000 })
    await page.goto(`${FAMILY}?distance=mi`)
    expect(await words('article figcaption')).toMatch(/^Learned: by [\d,]+\smi, .*Counted on your records, /)
    await page.goto(FAMILY)
    const lives = await words('dl[class*=lives]')
    expect(lives).toMatch(/failed24/)
    expect(lives).toMatch(/still running, or lost from sight120/)
    await page.getByText('The numbers').first().click()
    const headings = await page.locator('article').first().locator('figure th[scope=col]').allTextContents()
    expect(headings).toContain('Failed, as stated')
    expect(headings).toContain('Counted: failed or found going')
    const counted = page.locator('article').first().locator('figure tbody td:last-child data')
    const shares = await counted.evaluateAll((cells) =>
      cells.map((cell) => Number(cell.getAttribute('value'))),
    )
    expect(shares.length).toBeGreaterThan(2)
    expect(shares).toEqual(shares.toSorted((a, b) => a - b))
    expect(shares.at(-1)).toBeGreaterThan(0.1)
    const versions = page.getByRole('table', { name: 'How long versions last' })
    expect(await versions.textContent()).toMatch(/mk2.*stated 1.5/)
    await withoutViolations()
    await onOtherScreens()
  })
})

describe('how often to replace a part', () => {
  test('is a sentence, a table and an interval of one’s own', PATIENCE, async () => {
    await page.goto(FAMILY)
    await page.getByRole('link', { name: /^How often to replace it.*Fuel injector$/ }).click()
    await page.waitForURL('**/interval/injector')
    expect(await words('figcaption')).toMatch(/costs least|Least costly is to replace it every/)
    expect(await words('section[aria-labelledby=cautions]')).toMatch(
      /let the rail bleed down first\..*Before any work/,
    )
    await page.getByLabel('An interval of your own').fill('whenever')
    await press('Work it out')
    await page.getByText('Type an interval, like').waitFor()
    await page.getByLabel('An interval of your own').fill('80k')
    await press('Work it out')
    await page.getByText(/^Every 80,000\skm \(yours\): €.* per 1,000 km, /).waitFor()
    const perKm = await words('figure tbody data')
    await page.getByText('The numbers').click()
    expect(await words('figure tbody')).toContain('run to failure')
    await withoutViolations()
    await onOtherScreens()
    await page.getByLabel('Driving').selectOption('short')
    await press('Work it out')
    await page.waitForURL(/driving=short/)
    expect(page.url()).toContain('every=80k')
    expect(await words('figure tbody data')).not.toBe(perKm)
    expect((await page.goto(`${FAMILY}/interval/no-such-part`))?.status()).toBe(404)
  })

  test('is worked out without script', PATIENCE, async () => {
    const plain = await browser.newContext({
      storageState: await context.storageState(),
      javaScriptEnabled: false,
    })
    const shown = await plain.newPage()
    await shown.goto(`${FAMILY}/interval/injector`)
    await shown.getByLabel('An interval of your own').fill('100 000')
    await shown.getByRole('button', { name: 'Work it out' }).click()
    await shown.getByText(/^Every 100,000\skm \(yours\)/).waitFor()
    await plain.close()
  })
})

describe('a family in force', () => {
  const DRAFT = /\/families\/new\/[0-9a-f-]{36}$/

  test(
    'is opened, changed with its versions and places, and put in force in its own place',
    PATIENCE,
    async () => {
      await page.goto(FAMILY)
      await press('Change what is stated')
      await page.waitForURL(DRAFT)
      const draft = page.url()
      await page.getByText('Nothing yet: it says what is in force.').waitFor()

      await page.getByRole('link', { name: 'Fuel injector' }).click()
      await page.waitForURL('**/weak-points/injector')
      expect(await page.getByLabel('Cautions').inputValue()).toBe(
        EXAMPLE_LIBRARY.families[0]?.weakPoints[0]?.cautions?.join('\n'),
      )
      await page.getByLabel('Half have started').fill('200k')
      await page.getByLabel('Where on the engine').fill('under the cowl')
      await withoutViolations()
      await press('Keep this weak point')
      await page.waitForURL(DRAFT)

      await page.goto(`${draft}/weak-points/injector/versions/new`)
      await page.getByLabel('What the version is called').fill('Mk 3')
      await press('Keep this version')
      await page.getByRole('link', { name: /Type how many times as long/ }).waitFor()
      expect(await page.getByLabel('What the version is called').inputValue()).toBe('Mk 3')
      await page.getByLabel('It lasts').fill('1,8')
      await page.getByLabel(/^a hunch/).check()
      await withoutViolations()
      await press('Keep this version')
      await page.waitForURL('**/weak-points/injector')
      await page.getByRole('link', { name: 'Mk 3' }).waitFor()

      await page.goto(`${draft}/versions/new`)
      await page.getByLabel('What the version is called').fill('from 2021')
      await page.getByLabel('In it, this lasts: Fuel injector').selectOption('1.2')
      await page.getByLabel(/^experience/).check()
      await withoutViolations()
      await press('Keep this version')
      await page.waitForURL(DRAFT)

      const changes = await words('section[aria-labelledby=changes]')
      expect(changes).toMatch(/half have begun to go by: 200,000\skm, was 180,000\skm/)
      expect(changes).toContain('where: “under the cowl”, was “inlet side”')
      expect(changes).toContain('version Mk 3 is new')
      expect(changes).toContain('Fuel injector in from 2021 is new')
      await withoutViolations()
      await onOtherScreens()
      await press('Put it in force')
      await page.waitForURL('**/families/plover-22')
      expect(await words('main header')).toContain('From version 2 of the library')
      expect(await words('article')).toContain('Mk 3 lasts 1.8 times as long')
    },
  )

  test('is given another name, other cylinders and what is reached together', PATIENCE, async () => {
    await page.goto(FAMILY)
    await press('Change what is stated')
    await page.waitForURL(DRAFT)
    const draft = page.url()
    await page.getByRole('link', { name: /^Change its name, its cylinders/ }).click()
    await page.waitForURL('**/engine')
    await page.getByText('There is one a cylinder of these, which changes with it: Fuel injector.').waitFor()
    await withoutViolations()
    await onOtherScreens()
    await page.getByLabel('How many cylinders').fill('many')
    await press('Keep the engine')
    await page.getByRole('link', { name: /^Type how many cylinders/ }).waitFor()
    await page.getByLabel('How many cylinders').fill('3')
    await press('Keep the engine')
    await page.getByRole('link', { name: /Fuel injector at position 4 \(1 record\)/ }).waitFor()
    await withoutViolations()
    await page.getByLabel('How many cylinders').fill('6')
    await page.getByLabel('What the engine is called').fill('Plover 3.3')
    await page.getByLabel('What is taken off to reach it: Cam cover').fill('rail')
    await press('Keep the engine')
    await page.waitForURL(DRAFT)
    expect(await words('h1')).toBe('Plover 3.3')
    const changes = await words('section[aria-labelledby=changes]')
    expect(changes).toMatch(/name: “Plover 3.3”, was “Plover 2.2”/)
    expect(changes).toMatch(/cylinders: 6, was 4/)
    expect(changes).toMatch(/reached together with: “rail”/)
    expect(changes).toMatch(/how many there are: 6, was 4/)
    await page.goto(draft)
    await page.getByText('Drop this draft').click()
    await press('Drop it')
    await page.waitForURL('**/families')
  })

  test('is tried on the past when somebody asks, and says what came out', PATIENCE, async () => {
    await page.goto(FAMILY)
    await press('Change what is stated')
    await page.waitForURL(DRAFT)
    const draft = page.url()
    for (const act of ['Try it', 'Stop it', 'Try it']) await press(act)
    await page.getByRole('progressbar', { name: 'Trying the draft' }).waitFor()
    await comeOut(draft.split('/').at(-1)!)
    await page.goto(draft)
    await page.getByText('the draft came closer to what happened than the library in force').waitFor()
    await page.getByRole('button', { name: 'Try it again' }).waitFor()
    await withoutViolations()
  })

  test('asks before it undoes what somebody changed meanwhile', PATIENCE, async () => {
    await page.goto(FAMILY)
    await press('Change what is stated')
    await page.waitForURL(DRAFT)
    const draft = page.url()
    const stored = await page.request.get(`${ADDRESS}/library/2`)
    const others = (await stored.text()).replace('"cylinders": 4', '"cylinders": 6')
    await bringIn('library.json', others)
    await press(/^Bring in/)
    await page.getByRole('heading', { name: 'These are in' }).waitFor()
    await page.goto(draft)
    await press('Put it in force')
    await page.getByText('This engine was changed since this draft was begun.').waitFor()
    await page.goto(draft)
    await page.getByText('Drop this draft').click()
    await press('Drop it')
    await page.waitForURL('**/families')
  })

  test('of a draft that is gone nothing can be taken out, and that is said', PATIENCE, async () => {
    await page.goto(FAMILY)
    await press('Change what is stated')
    await page.waitForURL(DRAFT)
    const draft = page.url()
    const other = await context.newPage()
    await other.goto(`${draft}/weak-points/injector`)
    await page.getByText('Drop this draft').click()
    await press('Drop it')
    await page.waitForURL('**/families')
    await other.getByText('Take it out').click()
    await other.getByRole('button', { name: 'Take out Fuel injector' }).click()
    await other.getByRole('alert').getByText('This draft is not there any more').waitFor()
    await withoutViolations(other)
    await other.close()
  })

  test('a part that records name cannot be taken out, and says so', PATIENCE, async () => {
    await page.goto(FAMILY)
    await press('Change what is stated')
    await page.waitForURL(DRAFT)
    const draft = page.url()
    await page.goto(`${draft}/weak-points/injector`)
    await page.getByText('Take it out').click()
    await press('Take out Fuel injector')
    await page.waitForURL(DRAFT)
    await press('Put it in force')
    await page.getByText(/records name the weak point injector, which cannot go/).waitFor()
    await page.getByText('Drop this draft').click()
    await press('Drop it')
    await page.waitForURL('**/families')
  })
})

test('two versions are compared in words, chosen from the list', PATIENCE, async () => {
  await page.goto(`${ADDRESS}/families`)
  await page.getByLabel('What version').selectOption('2')
  await page.getByLabel('says otherwise than').selectOption('1')
  await press('Compare')
  await page.waitForURL(/compare\?to=2&from=1/)
  const said = await words('main')
  expect(said).toMatch(/half have begun to go by: 200,000\skm, was 180,000\skm/)
  expect(said).toContain('under the cowl')
  await withoutViolations()
  await onOtherScreens()
  await page.goto(`${ADDRESS}/families/compare?from=2&to=2`)
  await page.getByText('They say the same.').waitFor()
  expect((await page.goto(`${ADDRESS}/families/compare?from=1&to=99`))?.status()).toBe(404)
  expect((await page.goto(`${ADDRESS}/families/compare`))?.status()).toBe(404)
})

const ownOrganisation = async () =>
  organisationId((await readOrganisations(database)).find(({ name }) => name === OWN)!.id)

/** What the work behind the pages keeps when it has tried a draft: here one that is better. */
async function comeOut(draft: string): Promise<void> {
  const now = new Date()
  const gain = { first: 0.1, second: 0.08, mean: 0.02, interval: { low: 0.01, high: 0.03 } }
  const alone = { onlyFirst: 0, onlySecond: 0 }
  const comparison = { forecasts: 900, vehicles: 30, failures: 24, ...alone, logLoss: gain, brier: gain }
  const kept = { libraryVersion: 2, asOf: dayIn('UTC', now), learned: true, content: '{}', now, by: null }
  await withOrganisation(
    database,
    await ownOrganisation(),
    async (scope) => {
      await stopReplay(scope, { id: draft, now })
      await addReplay(scope, { draft, comparison: JSON.stringify(comparison), ...kept })
    },
    'write',
  )
}

/** Thirty vehicles from new, four injectors each; of twenty-four of them one failed, at one age after another. */
async function addFleet(): Promise<void> {
  const now = new Date()
  const today = dayIn('UTC', now)
  const units = Array.from({ length: 30 }, (_, i) => ({
    unit: `M-${i + 1}`,
    failsAtKm: 60_000 + 4_000 * i,
    fails: i < 24,
    position: i === 0 ? 4 : 1,
  }))
  const records: Records = recordsOf({
    vehicles: units.map(({ unit }) =>
      vehicleRow({
        unit,
        family: 'plover-22',
        duty: 'mixed',
        builtOn: today - 2_000,
        inServiceOn: today - 2_000,
      }),
    ),
    readings: units.flatMap(({ unit }) =>
      Array.from({ length: 41 }, (_, i) =>
        readingRow({ unit, readOn: today - 2_000 + 50 * i, odometerKm: 5_000 * i }),
      ),
    ),
    repairs: units
      .filter(({ fails }) => fails)
      .map(({ unit, failsAtKm, position }) =>
        repairRow({
          unit,
          doneOn: today - 2_000 + Math.round(failsAtKm / 100),
          odometerKm: failsAtKm,
          weakPoint: 'injector',
          positions: [position],
          action: 'renew',
          found: 'failed',
          because: 'failure',
          revision: 'mk2',
        }),
      ),
  })
  const organisation = await ownOrganisation()
  await withOrganisation(
    database,
    organisation,
    (scope) => addRecords(scope, records, { now, by: null }),
    'write',
  )
}
