import { afterAll, expect, inject, test } from 'vitest'
import { openDatabase } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'
import { readVehicleComponents } from '@/lib/store/read/vehicle-components'
import { readWatchlist } from '@/lib/store/read/watchlist'
import { BARE_QUERY, type WatchlistQuery } from '@/lib/store/read/watchlist-query'
import { startDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'
import { readPdf } from '../app/read-pdf'
import { launchChromium } from './chromium'

const started = await startDatabase({ home: inject('home') })
const database = await openDatabase(started.url, { kind: 'command', name: 'test' })
const [only] = await readOrganisations(database)
const browser = await launchChromium()
afterAll(async () => {
  await browser.close()
  await database.$disconnect()
  await started.stop()
})

const address = inject('address')
const signedIn = inject('signedIn').fleet
const QUERY: WatchlistQuery = {
  ...BARE_QUERY,
  horizonDays: 180,
  sort: [{ column: 'chance', descending: true }],
}

test('a vehicle shows each of its weak points as it was scored, the most urgent first', async () => {
  const { row, components } = await withOrganisation(database, organisationId(only!.id), async (scope) => {
    const [row] = await readWatchlist(scope, { ...QUERY, standings: ['book'] })
    return { row: row!, components: await readVehicleComponents(scope, row!.unit, QUERY.horizonDays) }
  })
  const page = await browser.newPage(signedIn)
  await page.goto(`${address}/vehicles/${encodeURIComponent(row.unit)}?horizon=180`)
  const shown = await page
    .locator('main > table > tbody > tr')
    .evaluateAll((rows) =>
      rows.map((each) => [...each.querySelectorAll('data')].map((data) => Number(data.value))),
    )
  expect(shown).toEqual(
    components.map(({ pFail, pDeveloping, costOfWaiting }) => [pFail, pDeveloping, costOfWaiting]),
  )
  expect(shown[0]?.[0]).toBe(row.pFail)
  const inHead = await page
    .locator('main header data')
    .evaluateAll((all) => all.map((data) => data.getAttribute('value')))
  expect(inHead).toContain(String(row.combined))
  await page.close()
})

test('a vehicle that is not there is a page that is not there', async () => {
  const page = await browser.newPage(signedIn)
  for (const unit of ['no-such', '%27%20or%20true--', '..%2F..'])
    expect((await page.goto(`${address}/vehicles/${unit}`))?.status(), unit).toBe(404)
  await page.close()
})

test('from the watchlist to a job card in two steps; a job is proposed, told, undone and answered', async () => {
  const page = await browser.newPage(signedIn)
  await page.goto(`${address}/?advice=stop,book&sort=-waiting`)
  await page.locator('main table a[href*="/vehicles/"]').first().click()
  await page.getByRole('link', { name: 'Job card' }).click()
  await page.getByRole('heading', { name: /^Job card: / }).waitFor()
  expect(await page.getByText('local rules and a qualified technician come first').count()).toBe(1)
  expect(await page.getByText('Mind:').count()).toBeGreaterThan(0)
  // The same as a file: one page, under a name that says what it is.
  const pdf = (await page.getByRole('link', { name: 'As a PDF' }).getAttribute('href'))!
  const answer = await page.request.get(`${address}${pdf}`)
  expect(answer.headers()['content-disposition']).toMatch(/^attachment; filename="job-card-.*\.pdf"/)
  const [sheet, ...more] = await readPdf(await answer.body())
  expect([sheet!.text.includes('Job card: '), more.length]).toEqual([true, 0])
  expect((await page.request.get(`${address}/vehicles/no-such/job-card.pdf`)).status()).toBe(404)

  await page.getByRole('link', { name: /^Back to / }).click()
  await page.getByRole('button', { name: /^Propose / }).click()
  const proposal = page.locator('#proposals article').first()
  await proposal.getByText('Somebody was told').click()
  await proposal.getByLabel('Who was told').fill('the driver')
  await proposal.getByRole('button', { name: 'Note who was told' }).click()
  await proposal.getByText('told the driver, in person').waitFor()
  await proposal.getByRole('button', { name: 'Undo' }).click()
  await proposal.getByText('proposed; nobody has been told').waitFor()
  await proposal.getByText('They said yes').click()
  await proposal.getByRole('button', { name: 'Note the yes' }).click()
  await proposal
    .getByText(/^accepted$/i)
    .first()
    .waitFor()
  await page.getByRole('link', { name: 'Proposals', exact: true }).click()
  await page.getByRole('heading', { name: 'To be told, answered or done' }).waitFor()
  expect(await page.getByRole('cell', { name: 'accepted' }).count()).toBeGreaterThan(0)
  await page.close()
})
