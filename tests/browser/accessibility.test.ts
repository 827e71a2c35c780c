import AxeBuilder from '@axe-core/playwright'
import { afterAll, describe, expect, inject, test } from 'vitest'
import { launchChromium } from './chromium'

const browser = await launchChromium()
afterAll(() => browser.close())

const ADDRESS = inject('address')
const signedIn = inject('signedIn').fleet
const PAGES = {
  door: '/door',
  settings: '/settings',
  people: '/settings/people',
  you: '/settings/you',
  'a forgotten password': '/door/forgot',
  'an invitation that opens nothing': `/invitation/${'A'.repeat(86)}`,
  'a link for a password that opens nothing': '/reset/none',
  vehicle: '/vehicles/V-004',
  'opened weak point': '/vehicles/V-004?open=egr-valve@1',
  'codes to enter': '/vehicles/V-004?enter=codes',
  'a look to enter': '/vehicles/V-004?enter=look',
  'a repair to enter': '/vehicles/V-004?enter=repair&weak-point=egr-valve',
  'facts to mend': '/vehicles/V-004?enter=facts',
  'at the vehicle': '/at',
  'at one vehicle': '/at/V-004',
  'a walk-round': '/at/V-004?do=look',
  'new vehicle': '/new-vehicle',
  families: '/families',
  family: '/families/dunlin-20',
  'new family': '/families/new',
  'track record': '/track-record',
  plan: '/plan',
  proposals: '/proposals',
  looks: '/looks?hours=6',
  'look sheet': '/looks/sheet?units=V-004',
  'fault finding': '/fault-finding?unit=V-004',
  'fault without records': '/fault-finding/unrecorded?engine=dunlin-20&odometer=184000',
  calls: '/calls',
  parts: '/parts',
  visits: '/visits?hours=40',
  'job card': '/vehicles/V-004/job-card',
  'audit trail': '/audit',
  customer: '/customer?name=Nobody',
  labels: '/labels?q=V-00',
  'labels to print': '/labels/sheet?only=V-004&size=large',
  'label without a session': `/q/${'A'.repeat(64)}`,
  'drivers’ reports': '/reports',
  'the week': '/digest',
  'stop the mails': `/unsubscribe/${'A'.repeat(64)}`,
  intake: '/intake',
  'the lot': '/stock',
  'policy and money': '/money',
  'a bid': '/bid?unit=V-004&retail=9000&margin=900',
  'set aside': '/vehicles/V-004/set-aside',
  'before a sale': '/vehicles/V-004/before-sale',
  watchlist: '/?advice=stop,book',
  'long list': '/',
  filters: '/?panel=filters&since=week&has=history-unknown&advice=stop',
  columns: '/?panel=columns&per=weak-point&advice=stop,book&density=dense',
  'saved views': '/?panel=views&q=V-00',
  stock: '/?columns=unit,customer,contact,weakPoint,next,changed,combined,status,history,value,asking&q=V-00',
  nothing: '/?q=no+such+thing',
  missing: '/no-such-page',
}
const WIDTHS = { desktop: { width: 1440, height: 900 }, phone: { width: 390, height: 844 } }

const GROUNDS = ['light', 'dark'] as const

const ALL = Object.keys(PAGES).flatMap((page) =>
  Object.keys(WIDTHS).flatMap((width) => GROUNDS.map((ground) => ({ page, width, ground }))),
) as { page: keyof typeof PAGES; width: keyof typeof WIDTHS; ground: 'light' | 'dark' }[]
/**
 * Every page at every width on both grounds in the long tests. The short ones check each kind of page at one width on
 * one ground (bringing in records and the engine families check theirs, and the steps behind them, in their own files).
 */
const SHORT = [
  'door',
  'settings',
  'a forgotten password',
  'opened weak point',
  'watchlist',
  'filters',
  'missing',
  'a walk-round',
]
const CASES = process.env.LONG_TESTS
  ? ALL
  : ALL.filter(({ page, width, ground }) => SHORT.includes(page) && width === 'desktop' && ground === 'dark')

describe.each(CASES)('$page at $width width on $ground', ({ page, width, ground }) => {
  test('axe finds nothing, and nothing runs out of the side', async () => {
    const context = await browser.newContext({ ...signedIn, viewport: WIDTHS[width], colorScheme: ground })
    const tab = await context.newPage()
    await tab.goto(`${ADDRESS}${PAGES[page]}`)
    // Made in the browser, of what the phone has taken along.
    if (PAGES[page].startsWith('/at')) await tab.getByText('Entered on this phone').waitFor()
    expect(await tab.locator('[aria-expanded="true"]').count()).toBe(page === 'opened weak point' ? 1 : 0)
    const { violations, passes } = await new AxeBuilder({ page: tab }).analyze()
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([])
    expect(passes.length).toBeGreaterThan(10)
    expect(await tab.evaluate(() => document.documentElement.scrollWidth)).toBe(WIDTHS[width].width)
    await context.close()
  })
})
