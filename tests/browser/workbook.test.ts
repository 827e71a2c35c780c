import { randomUUID } from 'node:crypto'
import AxeBuilder from '@axe-core/playwright'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest'
import { PAGE_NAMES } from '@/app/ui/page-words'
import type { Workbook } from '@/lib/intake/workbook/sheets'
import {
  dealerStock,
  fleetSheet,
  scannerText,
  shopInvoices,
  toXlsx,
  trackerExport,
} from '../intake/workbook/messy-workbooks'
import { EXAMPLE_LIBRARY } from '../records/example-library'
import { launchChromium } from './chromium'
import { CountedWay } from './counted-way'

const ADDRESS = inject('address')
const PATIENCE = { timeout: 240_000 }
/** On the phone, where there is least room; in the long tests on the desk as well. */
const WIDTHS = process.env.LONG_TESTS ? [1280, 390] : [390]

let browser: Browser
/** Of one person with an organisation of their own, for all tests, which follow one another. */
let page: Page
beforeAll(async () => {
  browser = await launchChromium()
  page = await newcomer()
})
afterAll(() => browser.close())

/** Somebody with an organisation of their own, whose library has the engines of the workbooks. */
async function newcomer(): Promise<Page> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } })
  const page = await context.newPage()
  await page.goto(`${ADDRESS}/door`)
  await page.getByLabel('Name of the organisation').fill(`Sedge Yard ${randomUUID().slice(0, 8)}`)
  await page.getByLabel('Currency').selectOption('EUR')
  await page.getByLabel('Your name').fill('Ada Finch')
  await page.getByRole('button', { name: 'Start it' }).click()
  await page.waitForURL(({ pathname }) => pathname !== '/door')
  await choose(page, 'library.json', Buffer.from(JSON.stringify(EXAMPLE_LIBRARY)))
  await bringIn(page)
  return page
}

async function choose(page: Page, name: string, buffer: Buffer): Promise<void> {
  await page.goto(`${ADDRESS}/intake`)
  await page
    .getByLabel(/^Files, or a folder/)
    .setInputFiles({ name, mimeType: 'application/octet-stream', buffer })
  await page.getByRole('button', { name: 'Look them over' }).click()
  await page.waitForURL(/\/intake\/(workbook\/)?[0-9a-f-]{36}$/)
}

/** Chooses a workbook, and waits until it has been read. */
async function open(page: Page, name: string, workbook: Workbook): Promise<void> {
  await choose(page, name, Buffer.from(toXlsx(workbook)))
  await page.getByRole('button', { name: 'See what would come in' }).waitFor()
}

async function makeFiles(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'See what would come in' }).click()
  await page.getByRole('heading', { name: 'Look these over' }).waitFor()
}

async function bringIn(page: Page): Promise<void> {
  await page.getByRole('button', { name: /^Bring in/ }).click()
  await page.getByRole('heading', { name: 'These are in' }).waitFor()
}

/** Waits on the watchlist until so many vehicles are ranked. */
async function ranked(page: Page, vehicles: number): Promise<void> {
  const count = async () => {
    await page.goto(ADDRESS)
    return page.locator('tbody tr[data-unit]').count()
  }
  await expect.poll(count, { timeout: 120_000, interval: 1000 }).toBe(vehicles)
}

describe('a workbook that nobody made for us', PATIENCE, () => {
  test('vehicles, engines and one odometer are enough for a first list, which says what it rests on', async () => {
    const rows = ['Truck;Engine;Mileage', 'T1;2.2 diesel;84.210 km', 'T2;Plover 2.2;151.000 km']
    await choose(page, 'trucks.csv', Buffer.from(rows.join('\n')))
    await page.getByRole('button', { name: 'Say what its columns are' }).click()
    await page.getByRole('button', { name: 'See what would come in' }).waitFor()
    await page.locator('main table a').first().click()
    await page.getByLabel('Day of every row').fill('2026-06-30')
    await page.getByRole('button', { name: 'Keep this' }).click()
    await makeFiles(page)
    await bringIn(page)
    await ranked(page, 2)
    const said = await page.locator('main').textContent()
    expect(said).toContain('Nobody has looked yet: this list rests on mileage')
    expect(said).toContain('No work is on record yet')
  })

  test('what was said is remembered: next week’s workbook of the same columns asks nothing', async () => {
    await open(page, 'stock.xlsx', dealerStock())
    const asked = page.getByRole('heading', { name: /thing(s)? it does not say/ })
    for (let most = 10; (await asked.count()) > 0 && most > 0; most--) {
      const answers = page.locator('section[aria-labelledby="asked"] li form button')
      if ((await answers.count()) === 0) break
      await answers.first().click()
      await page.waitForLoadState('networkidle')
    }
    await makeFiles(page)
    await bringIn(page)
    const before = await page.locator('main').textContent()
    await open(page, 'stock next week.xlsx', dealerStock())
    await page.getByRole('heading', { name: 'stock next week.xlsx' }).waitFor()
    expect(await page.locator('section[aria-labelledby="asked"] li form').count()).toBe(0)
    await makeFiles(page)
    expect(before).toMatch(/[1-9]\d* new/)
    expect(await page.locator('main').textContent()).toContain('They change nothing')
  })

  test('a column is said to be something else, read back, and that is undone', async () => {
    await open(page, 'invoices.xlsx', shopInvoices())
    await page.locator('main table a').first().click()
    const odometer = page.getByLabel('What km-Stand is')
    expect(await odometer.inputValue()).toBe('odometer')
    await odometer.selectOption('note')
    await page.getByRole('button', { name: 'Keep this' }).click()
    await page.getByRole('heading', { name: 'invoices.xlsx' }).waitFor()
    expect(await page.locator('main').textContent()).toContain('km-Stand: kept as a note')
    await page.getByRole('button', { name: 'Undo the last change' }).click()
    await page.getByText('km-Stand: odometer').waitFor()
    await page.getByRole('link', { name: 'what was done, in words' }).click()
    await page.getByRole('heading', { name: 'What the phrases stand for' }).waitFor()
    const pictured = await page.getByRole('row').count()
    expect(pictured).toBeGreaterThan(4)
  })

  test('what is no workbook is refused in a line, and can be dropped', async () => {
    await choose(page, 'prices.xlsx', Buffer.from('%PDF-1.7 a price list'))
    const problem = page.getByRole('alert').filter({ hasText: 'could not be read' })
    await problem.waitFor()
    await page.getByRole('button', { name: 'Drop this workbook' }).click()
    await page.waitForURL(`${ADDRESS}/intake`)
    await page.getByRole('heading', { name: PAGE_NAMES.intake }).waitFor()
    expect(await page.getByRole('link', { name: 'prices.xlsx' }).count()).toBe(0)
  })

  test('every page of it is clean to axe, and nothing runs out of the side', async () => {
    await open(page, 'fleet.xlsx', fleetSheet())
    const start = page.url()
    for (const place of ['', '/sheet/0', '/words/engine', '/work'])
      for (const width of WIDTHS) {
        await page.setViewportSize({ width, height: 900 })
        await page.goto(`${start}${place}`)
        const { violations } = await new AxeBuilder({ page }).analyze()
        expect(
          violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`),
          `${place} at ${width}`,
        ).toEqual([])
        const overflow = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)
        expect(overflow, `${place} at ${width}`).toBeLessThanOrEqual(0)
      }
  })
})

type Messy = {
  name: string
  make: () => Workbook
  /** What its page says that it tells of. */
  tells: string
  /** Answers by the button pressed, in the order in which they are asked. */
  answers: string[]
  /** Questions that can be left: which engine a word stands for that the library does not have. */
  left: number
  /** A file of vehicles that comes first. */
  vehicles?: string
  /** What is said of it before anything goes in. */
  preview: RegExp[]
  /** A vehicle on the list, and the first thing that is said to be done with it. */
  decision: [unit: string, said: RegExp]
  ranked: number
}

const MESSY: Messy[] = [
  {
    name: 'fleet.xlsx',
    make: fleetSheet,
    tells: 'vehicles, odometer readings, work done',
    answers: [
      'nothing: parts may have been replaced before',
      'one or some of them, nobody knows which',
      'not known',
    ],
    preview: [/kept beside/, /1 row of totals left out/, /They touch 4 vehicles/],
    left: 1,
    decision: ['V2', /Fuel injector/],
    ranked: 4,
  },
  {
    name: 'invoices.xlsx',
    make: shopInvoices,
    tells: 'vehicles, odometer readings, work done',
    answers: [
      'nothing: parts may have been replaced before',
      'one or some of them, nobody knows which',
      'not known',
    ],
    preview: [/2 phrases tied to nothing: kept beside/, /They touch 2 vehicles/],
    left: 0,
    decision: ['M-CD 34', /Cam cover|Fuel injector|Vacuum pump gasket/],
    ranked: 2,
  },
  {
    name: 'stock.xlsx',
    make: dealerStock,
    tells: 'vehicles, odometer readings',
    answers: ['nothing: parts may have been replaced before'],
    preview: [/They touch 3 vehicles/, /does not know: it is kept/],
    left: 1,
    decision: ['S11', /Cam cover|Fuel injector|Vacuum pump gasket/],
    ranked: 2,
  },
  {
    name: 'tracker.xlsx',
    make: trackerExport,
    tells: 'odometer readings',
    answers: ['from its fitting: what the instrument said then is added'],
    preview: [/They touch 2 vehicles/],
    left: 0,
    decision: ['V1', /Cam cover|Fuel injector|Vacuum pump gasket/],
    ranked: 2,
  },
  {
    name: 'scanner.xlsx',
    make: scannerText,
    tells: 'trouble codes',
    // A scanner knows vehicles by their number alone: which engine each has stands in a file of vehicles.
    vehicles: 'unit,family\nV1,plover-22\nV2,plover-22\n',
    answers: ['only what is written'],
    preview: [/They touch 2 vehicles/],
    left: 0,
    decision: ['V1', /Fuel injector/],
    ranked: 2,
  },
]

/** Everything is counted from the door on: the organisation is begun, its engines are brought in, then the workbook. */
describe('from the door to the first decision', PATIENCE, () => {
  const tried = process.env.LONG_TESTS ? MESSY : MESSY.slice(0, 1)
  test.each(tried)('$name', async ({ name, make, vehicles, ...expected }) => {
    const { tells, answers, left, preview, decision, ranked: many } = expected
    const context = await browser.newContext({ viewport: { width: 1280, height: 900 } })
    const page = await context.newPage()
    const way = new CountedWay(page)
    await begin(way)
    await bringInFile(way, 'library.json', Buffer.from(JSON.stringify(EXAMPLE_LIBRARY)))
    if (vehicles !== undefined) await bringInFile(way, 'vehicles.csv', Buffer.from(vehicles))
    await chooseFile(way, name, Buffer.from(toXlsx(make())))
    await page.getByRole('button', { name: 'See what would come in' }).waitFor()
    expect(await page.locator('main').textContent()).toContain(tells)
    for (const [place, answer] of answers.entries()) {
      await way.press(page.getByRole('button', { name: answer, exact: true }))
      await page
        .getByText(place === 0 ? 'One thing you have said' : `${place + 1} things you have said`)
        .waitFor()
    }
    expect(await page.locator('section[aria-labelledby="asked"] li').count()).toBe(left)
    await way.press(page.getByRole('button', { name: 'See what would come in' }))
    await page.getByRole('heading', { name: 'Look these over' }).waitFor()
    for (const said of preview) expect(await page.locator('main').textContent()).toMatch(said)
    await enter(way)
    await way.press(page.getByRole('link', { name: 'See the watchlist' }))
    await page.waitForURL(`${ADDRESS}/`)
    await ranked(page, many)
    const [unit, said] = decision
    const row = page.locator(`tbody tr[data-unit="${unit}"]`)
    const told = async () => {
      await page.goto(ADDRESS)
      return row.textContent()
    }
    await expect.poll(told, { timeout: 120_000, interval: 1000 }).toMatch(said)
    await way.press(row.getByRole('link').first())
    await page.waitForURL(/\/vehicles\//)
    await way.read()
    console.info(`${name}: ${way}`)
    expect(way.minutes().together).toBeLessThan(10)
    await context.close()
  })
})

async function begin(way: CountedWay): Promise<void> {
  const { page } = way
  await page.goto(`${ADDRESS}/door`)
  await way.fill(page.getByLabel('Name of the organisation'), `Sedge Yard ${randomUUID().slice(0, 8)}`)
  await way.choose(page.getByLabel('Currency'), 'EUR')
  await way.fill(page.getByLabel('Your name'), 'Ada Finch')
  await way.press(page.getByRole('button', { name: 'Start it' }))
  await page.waitForURL(({ pathname }) => pathname !== '/door')
}

async function chooseFile(way: CountedWay, name: string, buffer: Buffer): Promise<void> {
  const { page } = way
  await way.press(page.getByRole('link', { name: PAGE_NAMES.intake }).first())
  await page.waitForURL(/\/intake$/)
  const mimeType = 'application/octet-stream'
  await way.chooseFile(page.getByLabel(/^Files, or a folder/), { name, mimeType, buffer })
  await way.press(page.getByRole('button', { name: 'Look them over' }))
  await page.waitForURL(/\/intake\/(workbook\/)?[0-9a-f-]{36}$/)
}

async function bringInFile(way: CountedWay, name: string, buffer: Buffer): Promise<void> {
  await chooseFile(way, name, buffer)
  await enter(way)
}

async function enter(way: CountedWay): Promise<void> {
  await way.press(way.page.getByRole('button', { name: /^Bring in/ }))
  await way.page.getByRole('heading', { name: 'These are in' }).waitFor()
}
