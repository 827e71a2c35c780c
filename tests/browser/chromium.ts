import { type Browser, chromium } from 'playwright-core'
import { chromiumPath } from './chromium-path'

const FLAGS = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

/** How long a page is waited for where a test says nothing of its own: other tests are at work beside it. */
const PATIENCE_MS = 120_000

/** @param more flags of one test's own */
export async function launchChromium(more: readonly string[] = []): Promise<Browser> {
  const executablePath = chromiumPath()
  if (executablePath === null)
    throw new Error('There is no Chromium: npm test brings it, or set CHROMIUM to one')
  const browser = await chromium.launch({ executablePath, args: [...FLAGS, ...more] })
  browser.on('context', (context) => context.setDefaultTimeout(PATIENCE_MS))
  return browser
}
