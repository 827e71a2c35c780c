import AxeBuilder from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest'
import { defaultPlan } from '@/lib/replay/default-plan'
import { lookBack } from '@/lib/replay/look-back'
import { judgeAll, type Replay } from '@/lib/replay/replay'
import { verdictOf, verdictSentence } from '@/lib/replay/verdict'
import { openDatabase } from '@/lib/store/database'
import { type OrganisationId, organisationId } from '@/lib/store/organisation-id'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readOrganisations } from '@/lib/store/read/organisations'
import { readRecordsToRewind } from '@/lib/store/read/records-to-rewind'
import { startDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'
import { addReplay } from '@/lib/store/write/add-replay'
import { dayIn } from '@/lib/units/dates'
import { DEMO_NAMES } from '@/seed/demo-names'
import { launchChromium } from './chromium'

const started = await startDatabase({ home: inject('home') })
const database = await openDatabase(started.url, { kind: 'command', name: 'test' })
const browser = await launchChromium()
afterAll(async () => {
  await browser.close()
  await database.$disconnect()
  await started.stop()
})

const ADDRESS = inject('address')
const PATIENCE_MS = 300_000
let organisation: OrganisationId

beforeAll(async () => {
  const all = await readOrganisations(database)
  organisation = organisationId(all.find(({ name }) => name === DEMO_NAMES[0])!.id)
})

async function withoutViolations(page: Page): Promise<void> {
  const { violations, passes } = await new AxeBuilder({ page }).analyze()
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([])
  expect(passes.length).toBeGreaterThan(10)
  const width = page.viewportSize()?.width
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width)
}

test(
  'it is asked for at a button, says how far it is, and can be stopped',
  async () => {
    const signedIn = inject('signedIn').dealer // whose past is the shortest to look back on
    const context = await browser.newContext({ ...signedIn, viewport: { width: 1280, height: 900 } })
    const page = await context.newPage()
    await page.goto(ADDRESS)
    await page.getByRole('link', { name: 'Track record' }).click()
    await page.getByRole('heading', { name: 'Track record' }).waitFor()
    await page.getByText('Nobody has looked back yet').waitFor()
    await withoutViolations(page)
    await page.getByRole('button', { name: 'Look back now' }).click()
    await page.getByRole('progressbar', { name: 'Looking back' }).waitFor()
    await withoutViolations(page)
    await page.getByText(/Looked back from [1-9]\d* of 24 days/).waitFor({ timeout: PATIENCE_MS })
    await page.getByRole('button', { name: 'Stop it' }).click()
    await page.getByRole('button', { name: 'Look back now' }).waitFor()
    await page.getByText('Nobody has looked back yet').waitFor()
    await context.close()
  },
  PATIENCE_MS,
)

/** Three days of the demo's past, without learning, kept as the job keeps it. */
async function keepReplay(): Promise<Replay> {
  const { records, known } = await withOrganisation(database, organisation, async (scope) => ({
    records: await readRecordsToRewind(scope),
    known: await readKnownLibrary(scope),
  }))
  const now = new Date()
  const asOf = dayIn(records.settings.timeZone, now)
  const plan = defaultPlan(records, asOf, records.settings.adviceHorizonDays)
  if (!plan || !known) throw new Error('The demo has no past')
  const short = { ...plan, from: plan.to - 2 * plan.every }
  const work = { records, library: known.library, plan: short, learning: false }
  const replay = judgeAll(work, lookBack(work))
  await withOrganisation(
    database,
    organisation,
    (scope) =>
      addReplay(scope, {
        ...{ draft: null, libraryVersion: known.version, asOf, learned: false, now, by: null },
        ...{ content: JSON.stringify(replay), comparison: null },
      }),
    'write',
  )
  return replay
}

describe('what came out', () => {
  let replay: Replay
  beforeAll(async () => {
    replay = await keepReplay()
  }, PATIENCE_MS)

  test.each([
    { width: 1280, height: 900, colorScheme: 'light' as const },
    { width: 390, height: 844, colorScheme: 'dark' as const },
  ])(
    'is told in one sentence, in charts and in tables at $width px',
    async ({ colorScheme, ...viewport }) => {
      const context = await browser.newContext({ ...inject('signedIn').fleet, viewport, colorScheme })
      const page = await context.newPage()
      await page.goto(`${ADDRESS}/track-record`)
      const main = (await page.locator('main').textContent()) ?? ''
      const [begun] = verdictSentence(verdictOf(replay), () => '').split(';')
      expect(main).toContain(begun!.replace(/\.$/, ''))
      await expect.poll(() => page.locator('svg.recharts-surface').count()).toBe(2) // drawn by script
      expect(main).toContain('Looked back from 3 days, each time 90 days ahead.')
      for (const said of ['What looking is worth', 'What learning is worth', 'Against the odometer alone'])
        expect(main).toContain(said)
      const { weakPoints } = replay.overall
      expect(await page.locator('table').last().locator('tbody tr').count()).toBe(weakPoints.length)
      await withoutViolations(page)
      await page.getByText('The numbers').first().click()
      await page.getByText('What the columns say').click()
      await withoutViolations(page)
      await context.close()
    },
    PATIENCE_MS,
  )

  test(
    'is sorted and narrowed at addresses of its own, without script too, and can be taken along',
    async () => {
      const context = await browser.newContext({ ...inject('signedIn').fleet, javaScriptEnabled: false })
      const page = await context.newPage()
      await page.goto(`${ADDRESS}/track-record`)
      await page.getByRole('link', { name: 'most expected' }).click()
      await page.waitForURL('**/track-record?sort=expected#weak-points')
      const rows = page.locator('table').last().locator('tbody tr')
      const expected = (await rows.locator('td[data-label="Expected"]').allTextContents()).map(Number)
      expect(expected).toEqual(expected.toSorted((a, b) => b - a))
      expect(expected.length).toBe(replay.overall.weakPoints.length)
      const [first] = replay.overall.weakPoints
      await page.goto(`${ADDRESS}/track-record?family=${first!.family}`)
      const ofFamily = replay.overall.weakPoints.filter(({ family }) => family === first!.family)
      expect(await rows.count()).toBe(ofFamily.length)

      const file = await context.request.get(`${ADDRESS}/track-record.json`)
      expect(await file.json()).toEqual(JSON.parse(JSON.stringify(replay)))
      const missing = `${ADDRESS}/track-record.json?replay=00000000-0000-7000-8000-000000000001`
      expect((await context.request.get(missing)).status()).toBe(404)
      await context.close()
    },
    PATIENCE_MS,
  )
})
