import { parse } from 'csv-parse/sync'
import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, inject, test } from 'vitest'
import { BARE_COLUMNS } from '@/app/(people)/view'
import { ROWS_AT_ONCE, WHOLE_UP_TO } from '@/app/(people)/window-size'
import { chanceInBand } from '@/app/ui/chance-words'
import { openDatabase } from '@/lib/store/database'
import { type OrganisationId, organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'
import { readWatchlist, type WatchlistRow } from '@/lib/store/read/watchlist'
import { BARE_QUERY, type SortKey, type WatchlistQuery } from '@/lib/store/read/watchlist-query'
import { readWhatTodayAsks } from '@/lib/store/read/what-today-asks'
import type { Standing } from '@/lib/store/standing'
import { startDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'
import { launchChromium } from './chromium'

const started = await startDatabase({ home: inject('home') })
const database = await openDatabase(started.url, { kind: 'command', name: 'test' })
const [only] = await readOrganisations(database)
const organisation: OrganisationId = organisationId(only!.id)
const browser = await launchChromium()
afterAll(async () => {
  await browser.close()
  await database.$disconnect()
  await started.stop()
})

const address = inject('address')
const signedIn = inject('signedIn').fleet
/** One for all tests, each of which goes to an address of its own: a new one would read every script again. */
let page: Page
/** What the browser complained of, and what it asked of others than the product. */
let complaints: string[]

beforeAll(async () => {
  page = await browser.newPage({ ...signedIn, viewport: { width: 1440, height: 900 } })
  page.on('console', (message) => message.type() === 'error' && complaints.push(message.text()))
  page.on('pageerror', (error) => complaints.push(error.message))
  page.on('request', (request) => !request.url().startsWith(address) && complaints.push(request.url()))
})
beforeEach(() => {
  complaints = []
})
afterEach(() => expect(complaints).toEqual([]))

const by = (column: SortKey['column'], descending = false): SortKey[] => [{ column, descending }]
const stored = (change: Partial<WatchlistQuery> = {}): Promise<WatchlistRow[]> =>
  withOrganisation(database, organisation, (scope) => readWatchlist(scope, { ...BARE_QUERY, ...change }))

/** What every row of the page says, as a person and as a program reads it. */
function shownRows(): Promise<Record<string, string | null>[]> {
  return page.locator('tbody tr[data-unit]').evaluateAll((rows) =>
    rows.map((row) => {
      const value = (column: string, name = 'value') =>
        row.querySelector(`[data-column="${column}"] data`)?.getAttribute(name) ?? null
      return {
        unit: row.getAttribute('data-unit'),
        standing: row.getAttribute('data-standing'),
        chance: value('chance'),
        low: value('chance', 'data-low'),
        high: value('chance', 'data-high'),
        words: row.querySelector('[data-column="chance"] .for-ears')?.textContent ?? null,
        waiting: value('waiting'),
        odometer: value('odometer'),
      }
    }),
  )
}

const asShown = (row: WatchlistRow) => {
  const number = (value: number | null) => (value === null ? null : String(value))
  const { pFail, pLow, pHigh } = row
  const inFigures = (count: number) => new Intl.NumberFormat(only!.settings.locale).format(count)
  return {
    unit: row.unit,
    standing: row.standing,
    chance: number(pFail),
    low: number(pLow),
    high: number(pHigh),
    words:
      pFail === null || pLow === null || pHigh === null
        ? null
        : chanceInBand({ pFail, pLow, pHigh }, inFigures),
    waiting: number(row.costOfWaiting),
    odometer: number(row.odometerKm),
  }
}

/** A list that is longer than a page may be begins with its first part. */
const firstPart = (rows: WatchlistRow[]) => (rows.length > WHOLE_UP_TO ? rows.slice(0, ROWS_AT_ONCE) : rows)

const units = () =>
  page.locator('tbody tr[data-unit]').evaluateAll((rows) => rows.map((row) => row.getAttribute('data-unit')))

const focused = () =>
  page.evaluate(() => document.activeElement?.closest('tr')?.getAttribute('data-unit') ?? null)

/** Keys are heard as soon as the page's script has come; until then nobody is in a row. */
const firstRowByKey = (rows: (string | null)[]) =>
  expect
    .poll(
      async () => {
        await page.keyboard.press('j')
        return focused()
      },
      { timeout: 20_000 },
    )
    .toBe(rows[0])

describe('numbers', () => {
  test.each(process.env.LONG_TESTS ? [30, 90, 180, 365] : [90, 365])(
    'at %s days they equal the stored scores, to the last digit',
    async (horizonDays) => {
      await page.goto(`${address}/?horizon=${horizonDays}`)
      expect(await shownRows()).toEqual(firstPart(await stored({ horizonDays })).map(asShown))
    },
  )

  test('every number stands under the day that it speaks of', async () => {
    await page.goto(address)
    const [row] = await stored()
    const day = new Intl.DateTimeFormat(only!.settings.locale, { dateStyle: 'full', timeZone: 'UTC' })
    const words = day.format(row!.asOf * 86_400_000).replace(',', '')
    expect((await page.getByText('All numbers as of').textContent())?.replace(',', '')).toContain(words)
  })

  test('miles are the same distances', async () => {
    await page.goto(`${address}/?distance=mi&sort=unit`)
    const shown = (await page.locator('tbody tr [data-column="odometer"] data').first().textContent()) ?? ''
    const [row] = await stored({ sort: by('unit') })
    expect(Number(shown.replace(/\D/g, ''))).toBe(Math.round(row!.odometerKm! / 1.609344))
    expect(shown).toMatch(/mi$/)
  })
})

describe('sorting', () => {
  const standings: Standing[] = ['book', 'not-assessed'] // some of them have no chance, weak point or scan to sort by

  /** Every column in the long tests; the store's tests sort by each of them always. */
  const columns: typeof BARE_COLUMNS = process.env.LONG_TESTS ? BARE_COLUMNS : ['unit', 'chance', 'scan']

  test.each(columns)('by %s, by its heading, both ways, as the store has it', async (column) => {
    await page.goto(`${address}/?advice=book,not-assessed&sort=${column === 'unit' ? 'engine' : 'unit'}`)
    const heading = page.locator(`thead th[data-column="${column}"]`)
    const seen: string[] = []
    for (let click = 0; click < 2; click++) {
      const before = page.url()
      await heading.locator('a').click()
      await page.waitForURL((url) => url.href !== before)
      const direction = await heading.getAttribute('aria-sort')
      seen.push(`${direction}`)
      const descending = direction === 'descending'
      expect(await units()).toEqual(
        (await stored({ sort: by(column, descending), standings })).map(({ unit }) => unit),
      )
      expect(await page.locator('thead th[aria-sort]').count()).toBe(1)
    }
    expect(seen.toSorted()).toEqual(['ascending', 'descending'])
  })
})

describe('the address', () => {
  test('restores the view that it came from', async () => {
    await page.goto(address)
    await page.getByRole('link', { name: '6 months' }).click()
    await page.waitForURL(/horizon=180/)
    await page.locator('thead th[data-column="waiting"] a').click()
    await page.waitForURL(/sort=-waiting/)
    await page
      .getByRole('link', { name: /book in/ })
      .first()
      .click()
    await page.waitForURL(/advice=book/)
    const [url, rows] = [page.url(), await shownRows()]
    expect(rows).toEqual(
      (await stored({ horizonDays: 180, sort: by('waiting', true), standings: ['book'] })).map(asShown),
    )
    const other = await browser.newPage(signedIn)
    await other.goto(url)
    expect(await other.locator('tbody tr').count()).toBe(rows.length)
    expect(await other.locator('th[aria-sort="descending"]').getAttribute('data-column')).toBe('waiting')
    await other.close()
    await page.goBack()
    await page.waitForURL((found) => !found.search.includes('advice'))
  })

  test('says what it asked for that nobody knows, and shows the rest', async () => {
    await page.goto(`${address}/?colour=red&sort=-chance&horizon=91&advice=stop,sell`)
    const notice = await page.getByText('which was left out').textContent()
    for (const each of ['colour=red', 'horizon=91', 'advice=sell']) expect(notice).toContain(each)
    const rows = await stored({ sort: by('chance', true), standings: ['stop'] })
    expect(await units()).toEqual(rows.map(({ unit }) => unit))
  })
})

describe('finding', () => {
  test('narrows to what matches, says how many, and lets go again', async () => {
    await page.goto(address)
    const [row] = await stored({ standings: ['watch'] })
    const find = page.getByRole('searchbox', { name: 'Find vehicles' })
    await find.fill(`${row!.unit} ${row!.family.toUpperCase()}`)
    await find.press('Enter')
    await page.waitForURL(/q=/)
    expect(await units()).toContain(row!.unit)
    expect(await units()).toEqual(
      (await stored({ search: `${row!.unit} ${row!.family}` })).map(({ unit }) => unit),
    )
    await page.getByRole('link', { name: 'Show all' }).click()
    await page.waitForURL((url) => url.search === '')
    expect(await units()).toEqual(firstPart(await stored()).map(({ unit }) => unit))
  })

  test('finding nothing names what was asked, and offers the way out', async () => {
    await page.goto(`${address}/?q=no+such+thing&advice=book`)
    const none = page.getByRole('heading', { name: 'These filters leave no vehicle' })
    expect(await none.textContent()).toBe('These filters leave no vehicle: with “no such thing”; book in')
    await page.getByRole('link', { name: 'Drop: with “no such thing”' }).click()
    await page.waitForURL((url) => url.search === '?advice=book')
    expect((await units()).length).toBe((await stored({ standings: ['book'] })).length)
  })
})

test('the sentence counts what the scores advise, and each part leads to its rows', async () => {
  await page.goto(address)
  const asks = await withOrganisation(database, organisation, (scope) => readWhatTodayAsks(scope, 90))
  for (const standing of ['stop', 'book', 'check'] as const) {
    const part = page.locator(`main p a[href*="advice=${standing}"]`)
    expect(await part.count()).toBe(asks.byStanding[standing] > 0 ? 1 : 0)
    if (asks.byStanding[standing] === 0) continue
    await part.click()
    await page.waitForURL(new RegExp(`advice=${standing}`))
    expect((await units()).length).toBe(asks.byStanding[standing])
  }
})

test('what must not be driven says what to do; what is fine says what that rests on', async () => {
  await page.goto(`${address}/?advice=stop,fine`)
  for (const text of await page
    .locator('tr[data-standing="stop"] td[data-column="advice"]')
    .allTextContents())
    expect(text).toContain('Engine off, do not restart, tow.')
  const fine = await page.locator('tr[data-standing="fine"] td[data-column="speaks"]').allTextContents()
  expect(fine.length).toBeGreaterThan(0)
  for (const text of fine) {
    expect(text).toMatch(/Never looked at|Looked at (today|yesterday|[\d,.]+ days ago)/)
    expect(text).toMatch(/\d+ weak points covered; brakes, steering and tyres are not/)
  }
})

describe('the rest of a long list', () => {
  test('comes as it is scrolled to, in order, and says where each row stands', async () => {
    const rows = await stored()
    expect(rows.length).toBeGreaterThan(WHOLE_UP_TO)
    await page.goto(address)
    expect(await page.locator('table').getAttribute('aria-rowcount')).toBe(String(rows.length + 1))
    const last = rows.at(-1)!.unit
    await page.evaluate(() => window.scrollTo(0, document.body.scrollHeight))
    await expect
      .poll(
        async () => {
          await page.evaluate(() => window.scrollTo(0, document.body.scrollHeight))
          return page.locator(`tr[data-unit="${last}"]`).count()
        },
        { timeout: 20_000 },
      )
      .toBe(1)
    const shown = await page
      .locator('tbody tr[data-unit]')
      .evaluateAll((all) =>
        all.map((row) => [row.getAttribute('data-unit'), Number(row.getAttribute('aria-rowindex'))]),
      )
    for (const [unit, index] of shown) expect(rows[Number(index) - 2]?.unit).toBe(unit)
  })

  test('says so where the scores have changed meanwhile, and is shown anew', async () => {
    await page.goto(address)
    // Another's entry: what comes from now on rests on other scores.
    await page.route('**/watchlist-rows*', async (route) => {
      const answer = await route.fetch()
      await route.fulfill({ response: answer, json: { ...(await answer.json()), version: 'another' } })
    })
    const said = page.getByRole('status').filter({ hasText: 'Scores have changed since this list was begun' })
    expect(await said.count()).toBe(0)
    await expect
      .poll(
        async () => {
          await page.evaluate(() => window.scrollTo(0, document.body.scrollHeight))
          return said.count()
        },
        { timeout: 20_000 },
      )
      .toBe(1)
    await page.unrouteAll({ behavior: 'wait' })
    const anew = page.waitForRequest((request) => request.url().includes('_rsc'))
    await said.getByRole('button', { name: 'Show it anew' }).click()
    expect(new URL((await anew).url()).pathname).toBe('/')
  })

  test('can be leafed through, by links alone', async () => {
    const rows = (await stored()).map(({ unit }) => unit)
    await page.goto(address)
    await page.getByRole('link', { name: 'leaf through page by page' }).click()
    await page.waitForURL(/from=0/)
    expect(await units()).toEqual(rows.slice(0, ROWS_AT_ONCE))
    await page.getByRole('link', { name: `the next ${ROWS_AT_ONCE}` }).click()
    await page.waitForURL(new RegExp(`from=${ROWS_AT_ONCE}`))
    expect(await units()).toEqual(rows.slice(ROWS_AT_ONCE, 2 * ROWS_AT_ONCE))
  })
})

describe('taking rows along', () => {
  const csv = async (path: string) =>
    parse(await (await page.request.get(`${address}${path}`)).text(), { columns: true }) as Record<
      string,
      string
    >[]

  test('the CSV has exactly what is seen: rows, order and columns, numbers to the last digit', async () => {
    await page.goto(`${address}/?advice=book&sort=-chance&columns=unit,chance,value`)
    const link = await page.getByRole('link', { name: 'CSV' }).getAttribute('href')
    const rows = await stored({ sort: by('chance', true), standings: ['book'] })
    const number = (value: number | null) => (value === null ? '' : String(value))
    expect(await csv(`${link}`)).toEqual(
      rows.map((row) => ({
        Vehicle: row.unit,
        Plate: row.plate ?? '',
        'Chance within 90 days': number(row.pFail),
        'Chance, low end of its 80 % band': number(row.pLow),
        'Chance, high end of its 80 % band': number(row.pHigh),
        'Value (EUR)': number(row.value),
        'As of': new Date(row.asOf * 86_400_000).toISOString().slice(0, 10),
      })),
    )
    expect(await units()).toEqual(rows.map(({ unit }) => unit))
  })

  test('x selects with its count; the selection is shown alone, at an address of its own', async () => {
    await page.goto(`${address}/?advice=check`)
    const rows = await units()
    await firstRowByKey(rows)
    for (const key of ['x', 'j', 'j', 'x']) await page.keyboard.press(key)
    const bar = page.getByRole('group', { name: 'Selected rows' })
    expect(await bar.locator('output').textContent()).toBe('2 selected')
    await bar.getByRole('button', { name: 'Show these alone' }).click()
    await page.waitForURL(/only=/)
    expect(await units()).toEqual([rows[0], rows[2]])
    const { search } = new URL(page.url())
    expect((await csv(`/watchlist.csv${search}`)).map(({ Vehicle }) => Vehicle)).toEqual([rows[0], rows[2]])
  })
})

test('a view is saved under a name, opened, renamed, removed, and brought back', async () => {
  await page.goto(`${address}/?sort=-chance&advice=watch&panel=views`)
  await page.getByLabel('Save what you see now as').fill('Eyes on')
  await page.getByRole('button', { name: 'Save', exact: true }).click()
  await page.getByText('Saved as “Eyes on”').waitFor()
  await page.goto(address)
  const views = page.getByRole('navigation', { name: 'Views' })
  await views.getByRole('link', { name: 'Eyes on' }).click()
  await page.waitForURL(/sort=-chance/)
  expect(await units()).toEqual(
    (await stored({ sort: by('chance', true), standings: ['watch'] })).map(({ unit }) => unit),
  )
  await views.getByRole('link', { name: 'Saved views' }).click()
  await page.waitForURL(/panel=views/)
  await page.getByLabel('Name of Eyes on').fill('Keep watching')
  await page.getByRole('button', { name: 'Rename' }).click()
  await views.getByRole('link', { name: 'Keep watching' }).waitFor()
  await page.getByRole('button', { name: 'Remove' }).click()
  await page.getByText('“Keep watching” was removed.').waitFor()
  expect(await views.getByRole('link', { name: 'Keep watching' }).count()).toBe(0)
  await page.getByRole('button', { name: 'Undo' }).click()
  await views.getByRole('link', { name: 'Keep watching' }).waitFor()
})

test('a name that another saved view has is refused, and what was typed is kept', async () => {
  await page.goto(`${address}/?sort=waiting&panel=views`)
  for (const name of ['Cheap to wait', 'Dear to wait']) {
    await page.getByLabel('Save what you see now as').fill(name)
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    await page.getByText(`Saved as “${name}”`).waitFor()
  }
  const renamed = page.getByRole('listitem').filter({ has: page.getByLabel('Name of Dear to wait') })
  await renamed.getByLabel('Name of Dear to wait').fill('Cheap to wait')
  await renamed.getByRole('button', { name: 'Rename' }).click()
  const refusal = renamed.getByRole('alert')
  await refusal.getByRole('link', { name: 'There is a view of that name: choose another' }).click()
  const field = renamed.getByLabel('Name of Dear to wait')
  expect(await field.inputValue()).toBe('Cheap to wait')
  expect(await field.evaluate((input) => input === document.activeElement)).toBe(true)
  for (const name of ['Cheap to wait', 'Dear to wait'])
    await page.getByRole('button', { name: `Remove ${name}` }).click()
})

test('Shift on a heading sorts what is equal in the first column', async () => {
  await page.goto(`${address}/?sort=site&advice=watch`)
  await page.locator('thead th[data-column="chance"] a').click({ modifiers: ['Shift'] })
  await page.waitForURL(/sort=site,-chance/)
  const sort = [...by('site'), ...by('chance', true)]
  expect(await units()).toEqual((await stored({ sort, standings: ['watch'] })).map(({ unit }) => unit))
})

test('several filters are ticked at once, stand above the list, and are dropped one by one', async () => {
  await page.goto(`${address}/?panel=filters`)
  const form = page.getByRole('form', { name: 'Filters' })
  await form.getByLabel('keep an eye on').check()
  await form.getByLabel('book in').check()
  await form.getByLabel('history not known').check()
  await form.getByRole('button', { name: 'Show these' }).click()
  await page.waitForURL(/has=history-unknown/)
  const standings: Standing[] = ['book', 'watch']
  expect(await units()).toEqual(
    (await stored({ standings, marks: ['history-unknown'] })).map(({ unit }) => unit),
  )
  await page
    .getByRole('list', { name: 'Filters in force' })
    .getByRole('link', { name: /history not known/ })
    .click()
  await page.waitForURL((url) => !url.search.includes('has='))
  expect(await units()).toEqual((await stored({ standings })).map(({ unit }) => unit))
})

test('a row a weak point begins with those that ask for something, each with its own chance', async () => {
  await page.goto(address)
  await page.getByRole('link', { name: 'a row a weak point' }).click()
  await page.waitForURL(/per=weak-point/)
  await page.getByText('Weak points, each of one vehicle').waitFor({ state: 'attached' })
  const standings: Standing[] = ['stop', 'book', 'check', 'watch']
  expect(await shownRows()).toEqual(firstPart(await stored({ per: 'weak-point', standings })).map(asShown))
})

test('keys move through the rows, find, and list themselves', async () => {
  await page.goto(address)
  const rows = await units()
  await firstRowByKey(rows)
  await page.keyboard.press('j')
  await page.keyboard.press('j')
  await page.keyboard.press('k')
  expect(await focused()).toBe(rows[1])
  await page.keyboard.press('Enter')
  await page.waitForURL(/\/vehicles\//)
  expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe(rows[1])
  await page.goBack()
  await page.locator('tbody tr').first().waitFor()
  await page.keyboard.press('/')
  expect(await page.evaluate(() => document.activeElement?.id)).toBe('find')
  await page.keyboard.type('jk?')
  expect(await page.getByRole('searchbox').inputValue()).toBe('jk?')
  await page.keyboard.press('Escape')
  await page.keyboard.press('?')
  expect(await page.getByRole('dialog', { name: 'Keys' }).isVisible()).toBe(true)
  await page.keyboard.press('Escape')
  expect(await page.getByRole('dialog', { name: 'Keys' }).isVisible()).toBe(false)
})

test('the ground that was chosen stays, without a flash', async () => {
  await page.goto(address)
  await page.getByRole('button', { name: 'dark' }).click()
  const html = await (await page.request.get(address)).text()
  expect(html).toContain('data-ground="dark"')
})

test('every answer carries the content security policy, which lets nothing be evaluated', async () => {
  for (const path of ['/', '/no-such-page', '/?sort=chance']) {
    const policy = (await page.request.get(`${address}${path}`)).headers()['content-security-policy'] ?? ''
    expect(policy).toMatch(/script-src 'self' 'nonce-[^']+' 'strict-dynamic'/)
    expect(policy).not.toContain('unsafe-eval')
    expect(policy.split(';').filter((each) => each.includes('unsafe'))).toEqual([
      " style-src-attr 'unsafe-inline'",
    ])
  }
})
