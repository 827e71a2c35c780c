/** The watchlist of 50,000 vehicles in a browser: until it is seen, how evenly it scrolls, how soon rows stand there. */
import { chmodSync, mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { Page } from 'playwright-core'
import { ORGANISATION_COOKIE } from '@/app/require-person'
import { startEmbeddedServer } from '@/lib/store/inner/embedded-server'
import { launchChromium } from '../browser/chromium'
import { enterByDemoDoor, startProduct } from '../browser/product'
import { atMost, type BenchEntry } from './bench-entry'
import { makeEverybodys } from './everybodys'
import { drawLargeFleet, ORGANISATION, VEHICLES } from './large-fleet'

const VIEWS = 5
const JUMPS = 10
const FRAMES = 300
/** What a hand on a wheel moves in one frame. */
const STEP_PX = 120

export async function longListBench(): Promise<BenchEntry[]> {
  const home = mkdtempSync(path.join(os.tmpdir(), 'gudgeon-long-list-'))
  chmodSync(home, 0o755) // the embedded server runs as a user of its own
  const browser = await launchChromium()
  let product = await startProduct(home)
  try {
    const { storageState } = await enterByDemoDoor(browser, product.address)
    await product.end() // whose work on the demo would wait for ours, and ours for it
    await addLargeFleet(home)
    product = await startProduct(home)
    const context = await browser.newContext({ storageState, viewport: { width: 1440, height: 900 } })
    await context.addCookies([{ name: ORGANISATION_COOKIE, value: ORGANISATION, url: product.address }])
    // What runs this file gives inner functions their names by a function of its own, which a page has not.
    await context.addInitScript('globalThis.__name = (named) => named')
    const page = await context.newPage()
    const first = await firstViews(page, product.address)
    const frames = await scrollFrames(page)
    const jumps = await jumpTimes(page)
    const list = `watchlist of ${VEHICLES.toLocaleString('en')} vehicles in a browser`
    return [
      atMost(`${list}, first view, median`, middle(first), 'ms', 1500),
      atMost(`${list}, time of a frame while it is scrolled, 95th percentile`, at(frames, 0.95), 'ms', 34),
      atMost(`${list}, rows in sight after a jump to anywhere, median`, middle(jumps), 'ms', 500),
    ]
  } finally {
    await browser.close()
    await product.end()
    rmSync(home, { recursive: true, force: true })
  }
}

/** The large fleet, as one more organisation of everybody whom the demo knows. */
async function addLargeFleet(home: string): Promise<void> {
  const server = await startEmbeddedServer(home)
  const adminUrl = server.adminUrl('gudgeon')
  await drawLargeFleet(adminUrl)
  await makeEverybodys(adminUrl, ORGANISATION)
  await server.release()
}

/** Milliseconds until rows of the list stand on the page, as the browser itself counts from the press of a key. */
async function firstViews(page: Page, address: string): Promise<number[]> {
  const spent: number[] = []
  for (let view = 0; view <= VIEWS; view++) {
    await page.goto('about:blank')
    const from = performance.now()
    await page.goto(address, { waitUntil: 'commit' })
    await page.locator('tbody tr[data-unit]').nth(10).waitFor()
    spent.push(performance.now() - from)
  }
  await page.waitForLoadState('networkidle')
  return spent.slice(1) // the first one wakes the page
}

/** Milliseconds between frames while the list is scrolled down evenly. */
function scrollFrames(page: Page): Promise<number[]> {
  return page.evaluate(
    ({ frames, step }) =>
      new Promise<number[]>((resolve) => {
        const spent: number[] = []
        let last = performance.now()
        const next = () => {
          const now = performance.now()
          spent.push(now - last)
          last = now
          window.scrollBy(0, step)
          if (spent.length < frames) requestAnimationFrame(next)
          else resolve(spent)
        }
        requestAnimationFrame(next)
      }),
    { frames: FRAMES, step: STEP_PX },
  )
}

/** Milliseconds until rows stand in the middle of the window after a jump. */
async function jumpTimes(page: Page): Promise<number[]> {
  const spent: number[] = []
  for (let jump = 1; jump <= JUMPS; jump++) {
    spent.push(
      await page.evaluate(
        async (share) => {
          const from = performance.now()
          window.scrollTo(0, document.body.scrollHeight * share)
          const rowInSight = () =>
            document
              .elementsFromPoint(window.innerWidth / 2, window.innerHeight / 2)
              .some((element) => element.closest('tr[data-unit]'))
          while (!rowInSight()) await new Promise(requestAnimationFrame)
          return performance.now() - from
        },
        jump / (JUMPS + 1),
      ),
    )
  }
  return spent
}

const at = (values: number[], share: number) =>
  values.toSorted((a, b) => a - b)[Math.floor((values.length - 1) * share)]!
const middle = (values: number[]) => at(values, 0.5)
