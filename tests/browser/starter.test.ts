import AxeBuilder from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, expect, inject, test } from 'vitest'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { openDatabase } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'
import { startDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { readingRow, recordsOf, vehicleRow } from '../simulation/record-rows'
import { launchChromium } from './chromium'

const started = await startDatabase({ home: inject('home') })
const database = await openDatabase(started.url)
const browser = await launchChromium()
afterAll(async () => {
  await browser.close()
  await database.$disconnect()
  await started.stop()
})

const ADDRESS = inject('address')
const PATIENCE = { timeout: 180_000 }

async function withoutViolations(page: Page): Promise<void> {
  const { violations, passes } = await new AxeBuilder({ page }).analyze()
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([])
  expect(passes.length).toBeGreaterThan(10)
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(page.viewportSize()?.width)
}

/** Counts what a person does: presses of links, buttons and choices, and fields that are filled in. */
function hands(page: Page) {
  const steps = { presses: 0, fields: 0 }
  return {
    steps,
    press: async (role: 'link' | 'button', name: string | RegExp) => {
      steps.presses++
      await page.getByRole(role, { name, exact: typeof name === 'string' }).click()
    },
    choose: async (field: string, value: string) => {
      steps.presses++
      await page.locator(`input[name="${field}"][value="${value}"]`).check()
    },
    fill: async (field: string, text: string) => {
      steps.fields++
      await page.locator(`input[name="${field}"]`).fill(text)
    },
  }
}

type Point = { part: string; fields: Record<string, string>; choices: Record<string, string> }

/** What somebody knows by heart, said in as many ways. */
const POINTS: Point[] = [
  {
    part: 'Timing chain',
    fields: { range: '120 to 220', warning: '3k', sign: 'Rattle at a cold start' },
    choices: { confidence: 'experience', signKind: 'road', severity: 'stop' },
  },
  {
    part: 'Ignition coil',
    fields: { by1: '60', of1: '10', by2: '140,000', of2: '50', sign: 'P0301', parts: '45', hours: '0.5' },
    choices: { confidence: 'experience' },
  },
  { part: 'Water pump', fields: { range: '80.000-140.000', sign: 'Drip' }, choices: { confidence: 'hunch' } },
  { part: 'Fuel hose', fields: { range: '100 to 300' }, choices: { confidence: 'hunch', harm: 'yes' } },
  {
    part: 'Oil cooler',
    fields: { by1: '100k', of1: '5', by2: '150k', of2: '20' },
    choices: { confidence: 'documented' },
  },
]

/** Somebody new with an organisation of their own, and one vehicle whose engine nobody has described. */
async function begin(page: Page): Promise<void> {
  await page.goto(`${ADDRESS}/door`)
  await page.getByLabel('Name of the organisation').fill('Saltmarsh Cars')
  await page.getByLabel('Currency').selectOption('EUR')
  await page.locator('input[name=distance][value=km]').check()
  await page.getByLabel('Your name').fill('Wren Ashdown')
  await page.getByRole('button', { name: 'Start it', exact: true }).click()
  await page.waitForURL((url) => !url.pathname.startsWith('/door'))
  const now = new Date()
  const records = recordsOf({
    vehicles: [vehicleRow({ unit: 'S-1', family: 'twite-22' })],
    readings: [
      readingRow({ unit: 'S-1', readOn: Math.floor(now.getTime() / 86_400_000) - 10, odometerKm: 150_000 }),
    ],
  })
  const scope = await ownOrganisation()
  await withOrganisation(database, scope, (own) => addRecords(own, records, { now, by: null }), 'write')
}

async function ownOrganisation() {
  const all = await readOrganisations(database)
  return organisationId(all.find(({ name }) => name === 'Saltmarsh Cars')!.id)
}

test(
  'a person who knows an engine by heart states five weak points, which score its vehicle',
  PATIENCE,
  async () => {
    const context = await browser.newContext({ viewport: { width: 390, height: 844 } })
    const page = await context.newPage()
    await begin(page)
    const { steps, press, choose, fill } = hands(page)

    await page.goto(`${ADDRESS}/families`)
    await withoutViolations(page)
    await press('link', 'five weak points in ten minutes')
    await page.waitForURL('**/families/new/starter?family=twite-22')
    await withoutViolations(page)
    await fill('name', 'Twite 2.2')
    await fill('cylinders', '4')
    await press('button', 'On to the first weak point')

    for (const [i, { part, fields, choices }] of POINTS.entries()) {
      await page.getByRole('heading', { name: `Weak point ${i + 1} of 5` }).waitFor()
      await fill('component', part)
      for (const [field, text] of Object.entries(fields)) await fill(field, text)
      for (const [field, value] of Object.entries(choices)) await choose(field, value)
      if (i === 0) {
        const said = page.locator('output')
        expect(await said.textContent()).toContain(
          'Of 100: 10 by 120,000 km, 50 by 174,000 km, 90 by 220,000 km.',
        )
        expect(await said.locator('polyline').count()).toBe(1)
      }
      if (i === 1) await withoutViolations(page)
      await press('button', /^Keep it/)
    }
    await page.getByRole('heading', { name: 'Twite 2.2: five weak points stated' }).waitFor()
    await withoutViolations(page)
    const summary = await page.locator('main').textContent()
    expect(summary).toContain('1 vehicle has this engine')
    expect(summary).toContain('How long it runs from the first sign to the breakdown is not known')
    expect(summary).toContain('No costs stated, so what waiting costs cannot be said.')
    expect(summary).toContain('Stated by Wren Ashdown')
    await press('button', 'Put it in force')
    await page.waitForURL('**/families/twite-22')

    await freshenScores(database, await ownOrganisation(), new Date())
    await page.goto(`${ADDRESS}/vehicles/S-1`)
    const vehicle = await page.locator('main').textContent()
    for (const { part } of POINTS) expect(vehicle).toContain(part)
    expect(vehicle).toContain('5 weak points of its engine are covered')
    expect(steps).toEqual({ presses: 16, fields: 24 })
    await context.close()
  },
)
