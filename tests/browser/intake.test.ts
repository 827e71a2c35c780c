import { randomUUID } from 'node:crypto'
import AxeBuilder from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest'
import { openDatabase } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'
import { readRescoring } from '@/lib/store/read/rescoring'
import { readWatchlist } from '@/lib/store/read/watchlist'
import { BARE_QUERY } from '@/lib/store/read/watchlist-query'
import { STANDINGS } from '@/lib/store/standing'
import { startDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'
import { makeDemos } from '@/seed/demo'
import { DEMO_NAMES } from '@/seed/demo-names'
import { launchChromium } from './chromium'

const started = await startDatabase({ home: inject('home') })
const database = await openDatabase(started.url, { kind: 'command', name: 'test' })
const browser = await launchChromium()
const ADDRESS = inject('address')
const PATIENCE = { timeout: 240_000 }
const signedIn = inject('signedIn').dealer
const context = await browser.newContext(signedIn)
let page: Page
beforeAll(async () => {
  page = await context.newPage()
})
afterAll(async () => {
  await browser.close()
  await database.$disconnect()
  await started.stop()
})

type Given = { name: string; text: string | Buffer }

/** Chooses files on the page and waits until they are read. */
async function lookOver(...files: Given[]): Promise<void> {
  await page.goto(`${ADDRESS}/intake`)
  await page.setInputFiles(
    '#files',
    files.map(({ name, text }) => ({ name, mimeType: 'text/csv', buffer: Buffer.from(text) })),
  )
  await page.getByRole('button', { name: 'Look them over' }).click()
  await page.waitForURL(/\/intake\/[0-9a-f-]{36}$/)
  await page.getByRole('heading', { name: 'Look these over' }).waitFor()
}

/** On the phone, where there is least room; in the long tests on the desk as well. */
const WIDTHS = process.env.LONG_TESTS ? [1280, 390] : [390]

async function withoutViolations(): Promise<void> {
  for (const width of WIDTHS) {
    await page.setViewportSize({ width, height: 900 })
    const { violations, passes } = await new AxeBuilder({ page }).analyze()
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([])
    expect(passes.length).toBeGreaterThan(10)
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width)
  }
}

const URGENCY: readonly string[] = STANDINGS

/** The vehicles of an organisation as the store ranks them; none while the numbers of one are still to come. */
async function ranked(organisationName: string): Promise<string[]> {
  const organisations = await readOrganisations(database)
  const organisation = organisationId(organisations.find(({ name }) => name === organisationName)!.id)
  return withOrganisation(database, organisation, async (scope) =>
    (await readRescoring(scope, new Date())) === null
      ? (await readWatchlist(scope, BARE_QUERY)).map(({ unit }) => unit)
      : [],
  )
}

const heading = (name: string) => page.getByRole('heading', { name, exact: true }).waitFor()
const press = (name: string | RegExp) => page.getByRole('button', { name }).first().click()

describe('bringing in records', { ...PATIENCE }, () => {
  test('the page says what to send, and hands out files to begin with', async () => {
    await page.goto(`${ADDRESS}/intake`)
    await withoutViolations()
    const answer = await page.request.get(`${ADDRESS}/intake/template/repairs.csv`)
    expect(answer.status()).toBe(200)
    expect(await answer.text()).toMatch(/^unit,done_on,/)
    expect((await page.request.get(`${ADDRESS}/intake/template/no-such.csv`)).status()).toBe(404)
  })

  test('what people really send is told, mended, entered once, taken back and brought in again', async () => {
    await lookOver(
      { name: 'vehicles.csv', text: 'Fleet list;;\n\nUnit;Family;Site\nIN-1;nobody-knows;North\n' },
      {
        name: 'export.csv',
        text: 'unit;read on;odometer km\nIN-1;31.01.2026;1000\nIN-1;14.02.2026;2000\nIN-9;2026-02-15;5\n',
      },
      {
        name: 'repairs.csv',
        text: Buffer.from(
          'unit,done_on,weak_point,action,note\nIN-1,2026-02-03,other,renew,\xd6l\n',
          'latin1',
        ),
      },
      { name: 'picture.csv', text: Buffer.from([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0]) },
    )
    await withoutViolations()
    expect(await page.locator('main').textContent()).toContain('it is not a text file')
    await press('Read all as day, month, year')
    await page.getByText('3 new, 2 refused').waitFor()
    await press(/Windows-1252/)
    await page.getByText('4 new, 1 refused').waitFor()

    await page.getByRole('link', { name: 'Mend the row' }).click()
    await heading('Mend refused rows')
    await withoutViolations()
    await page.getByRole('textbox', { name: 'unit, line 4' }).fill('IN-1')
    await press('Read them again')
    await page.getByText('5 new. They touch 1 vehicle.').waitFor()

    await page.getByRole('button', { name: 'Bring in 5 rows' }).dblclick()
    await heading('These are in')
    expect((await page.request.get(`${ADDRESS}/vehicles/IN-1`)).status()).toBe(200)
    await withoutViolations()
    await press('Take all of it back')
    await heading('These were taken back')
    await press('Bring it in again')
    await heading('These are in')
    await press('Take all of it back')
    await heading('These were taken back')
  })

  test('no file, a file of no known kind and a form of another site are answered', async () => {
    await page.goto(`${ADDRESS}/intake`)
    await press('Look them over')
    await page.getByText('No file was chosen.').waitFor()
    await lookOver({ name: 'odd.csv', text: 'a,b\n1,2\n' })
    await page.getByRole('combobox', { name: 'It holds' }).selectOption('readings')
    await press('Read it as that')
    await page
      .getByText(/has no column unit, read_on, odometer_km/)
      .first()
      .waitFor()
    await press('Drop these files')
    await heading('Bring in records')
    const foreign = await page.request.post(`${ADDRESS}/intake/upload`, {
      headers: { Origin: 'https://elsewhere.example' },
      multipart: { files: { name: 'x.csv', mimeType: 'text/csv', buffer: Buffer.from('a') } },
    })
    expect(foreign.status()).toBe(403)
    const tooLarge = await page.request.post(`${ADDRESS}/intake/upload`, {
      headers: { Origin: ADDRESS, 'Content-Type': 'multipart/form-data; boundary=x' },
      data: Buffer.alloc(65 * 1024 * 1024),
    })
    expect(await tooLarge.text()).toContain('more than the 64 MB that are taken at once')
    await page.goto(`${ADDRESS}/intake`)
    await page.evaluate(() => {
      const taken = new DataTransfer()
      taken.items.add(new File([new Uint8Array(65 * 1024 * 1024)], 'readings.csv'))
      const input = document.querySelector<HTMLInputElement>('#files')
      if (input) input.files = taken.files
    })
    await press('Look them over')
    await page.getByText('These are 65 MB, and 64 MB are taken at once.').waitFor()
  })
})

test(
  'from an empty organisation to a ranked list: a folder is dropped, and the same a second time changes nothing',
  PATIENCE,
  async () => {
    const own = await browser.newPage({ viewport: { width: 1280, height: 900 } })
    const [demo] = makeDemos({ today: dayIn('UTC', new Date()), names: DEMO_NAMES.slice(-1) })
    if (!demo) throw new Error('There is no demo to bring in')
    const files: Given[] = [...demo.files].map(([name, bytes]) => ({ name, text: Buffer.from(bytes) }))
    files.push({ name: 'library.json', text: demo.libraryJson })

    await own.goto(`${ADDRESS}/door`)
    const name = `Wren Yard ${randomUUID().slice(0, 8)}`
    await own.getByLabel('Name of the organisation').fill(name)
    await own.getByLabel('Currency').selectOption(JSON.parse(demo.libraryJson).currency)
    await own.getByLabel('Your name').fill('Ada Finch')
    await own.getByRole('button', { name: 'Start it' }).click()
    await own.waitForURL(({ pathname }) => pathname !== '/door')

    const drop = async () => {
      await own.goto(`${ADDRESS}/intake`)
      const given = files.map(({ name, text }) => ({ name, base64: Buffer.from(text).toString('base64') }))
      const dropped = await own.evaluateHandle((files) => {
        const transfer = new DataTransfer()
        for (const { name, base64 } of files)
          transfer.items.add(new File([Uint8Array.from(atob(base64), (c) => c.charCodeAt(0))], name))
        return transfer
      }, given)
      await own.dispatchEvent('form[action="/intake/upload"]', 'drop', { dataTransfer: dropped })
      await own.waitForURL(/\/intake\/[0-9a-f-]{36}$/)
      await own.getByRole('heading', { name: 'Look these over' }).waitFor()
    }
    await drop()
    await own.getByRole('button', { name: /^Bring in [\d,.\s]+ rows$/ }).click()
    await own.getByRole('heading', { name: 'These are in' }).waitFor()
    await own.getByRole('link', { name: 'See the watchlist' }).click()
    await expect.poll(() => ranked(name), { timeout: 120_000, interval: 1000 }).not.toEqual([])
    await own.reload()
    const shown = (attribute: string) =>
      own
        .locator('tbody tr[data-unit]')
        .evaluateAll((rows, name) => rows.map((row) => row.getAttribute(name) ?? ''), attribute)
    expect(await shown('data-unit')).toEqual(await ranked(name))
    const urgency = (await shown('data-standing')).map((standing) => URGENCY.indexOf(standing))
    expect(urgency).toEqual(urgency.toSorted((a, b) => a - b))
    expect(new Set(urgency).size).toBeGreaterThan(2)
    await drop()
    await own.getByText('They change nothing: all that is in them was here already.').waitFor()
    await own.close()
  },
)
