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

export async function launchChromium(): Promise<Browser> {
  const executablePath = chromiumPath()
  if (executablePath === null)
    throw new Error('There is no Chromium: npm test brings it, or set CHROMIUM to one')
  return chromium.launch({ executablePath, args: FLAGS })
}
