/**
 * The built product as a person meets it: how long a start takes to the first page, and how long it takes after a code
 * was entered on a vehicle's page until the page tells what moved.
 */
import { mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import type { Browser, BrowserContext } from 'playwright-core'
import { launchChromium } from '../browser/chromium'
import { enterByDemoDoor, type Product, startProduct } from '../browser/product'
import { whenReckoned } from '../browser/when-scored'
import { atMost, type BenchEntry } from './bench-entry'

const STARTS = 3
const ENTRIES = 30
/** The first vehicles are entered to wake the server, as a first visitor would. */
const WAKING = 3
/** After a start the server rehearses entries for some seconds; the second half of a minute is everyday. */
const SETTLING_MS = 30_000

export async function productBench(): Promise<BenchEntry[]> {
  const home = mkdtempSync(path.join(os.tmpdir(), 'gudgeon-product-'))
  const browser = await launchChromium()
  let product = await startProduct(home)
  try {
    const { storageState } = await enterByDemoDoor(browser, product.address)
    await unitsOn(await browser.newContext({ storageState }), product.address) // until there is something to see
    await whenReckoned(home) // what a first start learns and reckons takes both cores for minutes
    const cookie = storageState.cookies.map(({ name, value }) => `${name}=${value}`).join('; ')
    const starts: number[] = []
    for (let start = 0; start < STARTS; start++) {
      await product.end()
      const from = performance.now()
      product = await startProduct(home)
      await firstPage(product, cookie)
      starts.push((performance.now() - from) / 1000)
    }
    await sleep(SETTLING_MS)
    const entered = await enterCodes(browser, product)
    return [
      atMost('a later start of the product to its first page, median', median(starts), 's', 5),
      atMost(
        'a code entered in the browser until the page tells what moved, median',
        median(entered),
        'ms',
        200,
      ),
      atMost(
        'the same, 95th percentile',
        entered.toSorted((a, b) => a - b)[Math.floor(entered.length * 0.95)]!,
        'ms',
        200,
      ),
    ]
  } finally {
    await product.end()
    await browser.close()
    rmSync(home, { recursive: true, force: true })
  }
}

/** The watchlist of the largest demo, as somebody gets it who was signed in before the start. */
async function firstPage({ address }: Product, cookie: string): Promise<void> {
  const answer = await fetch(address, { headers: { cookie } })
  if (!(await answer.text()).includes('/vehicles/')) throw new Error(`No watchlist: ${answer.status}`)
}

/** Milliseconds from the press of the button to the words that say what moved, one vehicle after the other. */
async function enterCodes(browser: Browser, { address }: Product): Promise<number[]> {
  const context = await browser.newContext(await enterByDemoDoor(browser, address))
  const vehicles = await unitsOn(context, address)
  const spent: number[] = []
  for (const vehicle of vehicles) {
    const page = await context.newPage()
    await page.goto(`${address}${vehicle}?enter=codes`)
    await page.waitForLoadState('networkidle')
    await page.getByLabel('Trouble codes').fill('P0302')
    spent.push(
      await page.evaluate(async () => {
        const form = document.querySelector('#enter form button[type=submit]')
        if (!(form instanceof HTMLButtonElement)) throw new Error('no form to enter codes')
        const told = new Promise<void>((resolve) => {
          new MutationObserver(() => {
            if (document.querySelector('#enter [role=status]')) resolve()
          }).observe(document.body, { subtree: true, childList: true })
        })
        const from = performance.now()
        form.click()
        await told
        return performance.now() - from
      }),
    )
    await page.close()
  }
  await context.close()
  return spent.slice(WAKING)
}

async function unitsOn(context: BrowserContext, address: string): Promise<string[]> {
  const page = await context.newPage()
  await page.goto(address)
  const named = page.locator('main table a[href*="/vehicles/"]')
  await named.first().waitFor({ timeout: 60_000 })
  const links = await named.evaluateAll((all) =>
    all.map((link) => new URL(link.getAttribute('href') ?? '', location.href).pathname),
  )
  await page.close()
  return [...new Set(links)].slice(0, ENTRIES + WAKING)
}

const median = (values: number[]) => values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)]!
