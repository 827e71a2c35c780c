import AxeBuilder from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, describe, expect, inject, test } from 'vitest'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { openDatabase } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'
import { startDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { EXAMPLE } from '../store/example-records'
import { launchChromium } from './chromium'
import type { SignedIn } from './product'

const started = await startDatabase({ home: inject('home') })
const database = await openDatabase(started.url, { kind: 'command', name: 'test' })
const browser = await launchChromium()
afterAll(async () => {
  await browser.close()
  await database.$disconnect()
  await started.stop()
})

const ADDRESS = inject('address')
/** Many pages one after another, each held to accessibility. */
const PATIENCE = { timeout: 180_000 }
const DRAFT = /\/families\/new\/[0-9a-f-]{36}$/

async function withoutViolations(page: Page): Promise<void> {
  const { violations, passes } = await new AxeBuilder({ page }).analyze()
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([])
  expect(passes.length).toBeGreaterThan(10)
  const width = page.viewportSize()?.width
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width)
}

/** A vehicle with the engine, in the organisation of that name, scored as the background does. */
async function addVehicle(organisationName: string, family: string): Promise<void> {
  const organisations = await readOrganisations(database)
  const organisation = organisationId(organisations.find(({ name }) => name === organisationName)!.id)
  const now = new Date()
  const [vehicle, reading] = [EXAMPLE.vehicles[0]!, EXAMPLE.readings[0]!]
  const records = {
    ...EXAMPLE,
    vehicles: [{ ...vehicle, family, watchedFromKm: null, history: 'full' as const }],
    readings: [{ ...reading, odometerKm: 120_000 }],
    codes: [],
    checks: [],
    repairs: [],
    changes: [],
  }
  await withOrganisation(
    database,
    organisation,
    (scope) => addRecords(scope, records, { now, by: null }),
    'write',
  )
  await freshenScores(database, organisation, now)
}

/** An engine that was shared comes back from others with one figure changed, and is taken in. */
async function takeInWithoutScript(storageState: SignedIn['storageState']): Promise<void> {
  const context = await browser.newContext({ storageState, javaScriptEnabled: false })
  const page = await context.newPage()
  const press = (name: string) => page.getByRole('button', { name, exact: true }).click()
  const file = await (await page.request.get(`${ADDRESS}/families/dipper-1.9/share`)).json()
  expect(file.families[0].weakPoints[0]).toMatchObject({ warning: 8000, statedBy: 'Wren Ashdown' })
  file.families[0].weakPoints[0].warning = 9000
  await page.goto(`${ADDRESS}/families/take-in`)
  await page.getByLabel('A library file').setInputFiles({
    ...{ name: 'engine.json', mimeType: 'application/json' },
    buffer: Buffer.from(JSON.stringify({ ...file, name: 'Reed & Sedge' })),
  })
  await press('Read it')
  await press('Go on')
  expect(await page.getByLabel('Yours: 8,000 km').isChecked()).toBe(true)
  await page.getByLabel('Theirs: 9,000 km').check()
  await press('Look it over')
  await page.getByText('from first sign to breakdown: 9,000 km, was 8,000 km').waitFor()
  await press('Put it in force')
  await page.waitForURL('**/families/dipper-1.9')
  await context.close()
}

test(
  'a person of an empty organisation states a first family, which is in force and scores its vehicles',
  PATIENCE,
  async () => {
    const context = await browser.newContext({ viewport: { width: 390, height: 844 } })
    const page = await context.newPage()
    const press = (name: string) => page.getByRole('button', { name, exact: true }).click()
    await page.goto(`${ADDRESS}/door`)
    await page.getByLabel('Name of the organisation').fill('Fenland Vans')
    await page.getByLabel('Currency').selectOption('EUR')
    await page.locator('input[name=distance][value=km]').check()
    await page.getByLabel('Your name').fill('Wren Ashdown')
    await press('Start it')
    await page.waitForURL((url) => !url.pathname.startsWith('/door'))

    await page.goto(`${ADDRESS}/families`)
    await withoutViolations(page)
    await page.getByRole('link', { name: 'State a family' }).click()
    await page.waitForURL('**/families/new')
    await press('Begin')
    await page.getByRole('link', { name: 'Say what the engine is called.' }).waitFor()
    await page.getByLabel('What the engine is called').fill('Dipper 1.9')
    await page.getByLabel('How many cylinders').fill('4')
    await withoutViolations(page)
    await press('Begin')
    await page.waitForURL(DRAFT)
    const draft = page.url()

    await page.goto(`${draft}/weak-points/new`)
    await page.getByLabel('Which part').fill('Water pump')
    await page.getByLabel('One in ten').fill('90k')
    await page.getByLabel('Half have started').fill('soon')
    await press('Keep this weak point')
    await page.getByRole('link', { name: /by when half have started/ }).waitFor()
    expect(await page.getByLabel('Half have started').inputValue()).toBe('soon')
    await page.getByLabel('Half have started').fill('180.000')
    await page.getByLabel('From the first sign').fill('8 000 km')
    await page.getByLabel(/^experience/).check()
    expect(await page.getByRole('status').last().textContent()).toContain(
      '1 has begun to go by 90,000 km and 5 by 180,000 km',
    )
    await withoutViolations(page)
    await press('Keep this weak point')
    await page.waitForURL(DRAFT)

    await page.goto(`${draft}/signs/new`)
    await page.getByLabel('What there is to see').fill('Coolant below the pump')
    await page.getByLabel('seen by eye').check()
    await page.getByLabel(/goes: Water pump/).selectOption('0.6')
    await withoutViolations(page)
    await press('Keep this sign')
    await page.waitForURL(DRAFT)

    await page.goto(`${ADDRESS}/families/new`)
    await page.getByRole('link', { name: 'Go on with Dipper 1.9' }).click()
    await page.waitForURL(DRAFT)
    await withoutViolations(page)
    await press('Put it in force')
    await page.waitForURL('**/families/dipper-1.9')
    await page.getByRole('heading', { name: 'Water pump' }).waitFor()
    await withoutViolations(page)

    await addVehicle('Fenland Vans', 'dipper-1.9')
    await page.goto(`${ADDRESS}/vehicles/B-10`)
    await expect(page.locator('main').textContent()).resolves.toContain('Water pump')
    await page.goto(`${ADDRESS}/families`)
    await expect(page.locator('tbody tr').first().textContent()).resolves.toContain('Dipper 1.9')
    await takeInWithoutScript(await context.storageState())
    await context.close()
  },
)

describe('without script', () => {
  test('a family is stated all the same', async () => {
    const signedIn = inject('signedIn').fleet
    const context = await browser.newContext({ ...signedIn, javaScriptEnabled: false })
    const page = await context.newPage()
    await page.goto(`${ADDRESS}/families/new`)
    await page.getByLabel('What the engine is called').fill('Twite 3.0')
    await page.getByRole('button', { name: 'Begin', exact: true }).click()
    await page.getByText('Type how many cylinders').first().waitFor()
    expect(await page.getByLabel('What the engine is called').inputValue()).toBe('Twite 3.0')
    await page.getByLabel('How many cylinders').fill('6')
    await page.getByRole('button', { name: 'Begin', exact: true }).click()
    await page.waitForURL(DRAFT)
    await page.getByText('Drop this draft').click()
    await page.getByRole('button', { name: 'Drop it' }).click()
    await page.waitForURL('**/families')
    await context.close()
  })
})

describe('the families of the demo', () => {
  test(
    'one shows every weak point with its life, signs and costs; its library can be taken along',
    PATIENCE,
    async () => {
      const signedIn = inject('signedIn').fleet
      const context = await browser.newContext({ ...signedIn, viewport: { width: 1280, height: 900 } })
      const page = await context.newPage()
      await page.goto(`${ADDRESS}/families`)
      await withoutViolations(page)
      const file = page.getByRole('link', { name: /version 1, as a file/ })
      const [download] = await Promise.all([page.waitForEvent('download'), file.click()])
      expect(download.suggestedFilename()).toMatch(/\.json$/)

      await page.locator('tbody th a').first().click()
      await page.waitForURL('**/families/*')
      const articles = page.locator('article')
      expect(await articles.count()).toBeGreaterThan(5)
      for (const part of await articles.all()) {
        expect(await part.locator('figcaption').textContent()).toMatch(/have failed if nothing is done/)
        expect(await part.locator('svg.recharts-surface').count()).toBe(1)
      }
      const signs = page.getByRole('region', { name: 'Signs, and how often each' })
      expect(await signs.textContent()).toMatch(/signs are seen more often than stated in \d+ of \d+ learned/)
      expect(
        await signs.locator('td', { hasText: /^\d+ of \d+0learned: \d+ of \d+0$/ }).count(),
      ).toBeGreaterThan(3)
      await withoutViolations(page)
      expect((await page.goto(`${ADDRESS}/families/no-such-engine`))?.status()).toBe(404)
      expect((await page.goto(`${ADDRESS}/library/99`))?.status()).toBe(404)
      await context.close()
    },
  )
})
