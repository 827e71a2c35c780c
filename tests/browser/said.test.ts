/** What we said, after a failure: linked from the vehicle, read without a fault, and one page on paper. */
import AxeBuilder from '@axe-core/playwright'
import { afterAll, describe, expect, inject, test } from 'vitest'
import { openDatabase } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'
import { readRecords } from '@/lib/store/read/records'
import { startDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'
import { launchChromium } from './chromium'

const started = await startDatabase({ home: inject('home') })
const database = await openDatabase(started.url, { kind: 'command', name: 'test' })
const browser = await launchChromium()
afterAll(async () => {
  await browser.close()
  await database.$disconnect()
  await started.stop()
})

const address = inject('address')
const signedIn = inject('signedIn').shop

/** The shop's failure of the part with the most records before it. */
async function aFailure() {
  const organisations = await readOrganisations(database)
  const shop = organisations.find(({ name }) => name.startsWith('Crowberry'))!
  const records = await withOrganisation(database, organisationId(shop.id), (scope) => readRecords(scope))
  const failures = records.repairs.filter(
    ({ found, weakPoint }) => found === 'failed' && weakPoint !== 'other',
  )
  const looks = (unit: string) => records.checks.filter((check) => check.unit === unit).length
  return failures.toSorted((a, b) => looks(b.unit) - looks(a.unit))[0]!
}
const failure = await aFailure()
const vehicle = `/vehicles/${encodeURIComponent(failure.unit)}`

async function saidPage(context: Awaited<ReturnType<typeof browser.newContext>>) {
  const page = await context.newPage()
  await page.goto(`${address}${vehicle}?records=all`)
  const link = page.locator('#records').getByRole('link', { name: 'What we said' }).first()
  await page.goto(`${address}${await link.getAttribute('href')}`)
  return page
}

test('it is linked from the failure and from its weak point, and says that nothing was said before history came in', async () => {
  const context = await browser.newContext(signedIn)
  const page = await saidPage(context)
  expect(await page.getByRole('heading', { level: 1 }).textContent()).toContain(failure.unit)
  const main = page.getByRole('main')
  expect(await main.textContent()).toContain('Nothing was said of it here before it failed')
  expect(await page.getByRole('heading', { level: 2 }).allInnerTexts()).toEqual([
    'Said',
    'Not said then: worked out afterwards',
  ])
  const days = await main.locator('tbody > tr > th').allInnerTexts()
  expect(days.length).toBeGreaterThan(1)
  for (const day of days) expect(day).toContain('worked out afterwards')

  const position = failure.positions[0] ?? 1
  await page.goto(`${address}${vehicle}?open=${failure.weakPoint}@${position}`)
  await page.getByRole('link', { name: /^What we said before it failed/ }).click()
  await page.getByRole('heading', { level: 1, name: /^What we said of the/ }).waitFor()
  await context.close()
})

test('on paper it is one page without ways to go', async () => {
  const context = await browser.newContext({ ...signedIn, viewport: { width: 1280, height: 900 } })
  const page = await saidPage(context)
  const paper = (await page.pdf({ preferCSSPageSize: true })).toString('latin1')
  expect([...paper.matchAll(/\/Type\s*\/Pages\s*\/Count (\d+)/g)].map(([, count]) => count)).toEqual(['1'])
  await page.emulateMedia({ media: 'print' })
  for (const link of await page.getByRole('link').all()) expect(await link.isVisible()).toBe(false)
  await context.close()
})

test('a failure that is not there is a page that is not there', async () => {
  const page = await browser.newPage(signedIn)
  for (const repair of ['no-such', '00000000-0000-7000-8000-000000000009'])
    expect((await page.goto(`${address}${vehicle}/said/${repair}`))?.status(), repair).toBe(404)
  await page.close()
})

const WIDTHS = { desktop: { width: 1280, height: 900 }, phone: { width: 390, height: 844 } }
const CASES = (['desktop', 'phone'] as const).flatMap((width) =>
  (['light', 'dark'] as const).map((ground) => ({ width, ground })),
)

describe.each(CASES)('at $width width on $ground', ({ width, ground }) => {
  test('axe finds nothing, and nothing runs out of the side', async () => {
    const context = await browser.newContext({ ...signedIn, viewport: WIDTHS[width], colorScheme: ground })
    const page = await saidPage(context)
    const { violations, passes } = await new AxeBuilder({ page }).analyze()
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([])
    expect(passes.length).toBeGreaterThan(10)
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(WIDTHS[width].width)
    await context.close()
  })
})
