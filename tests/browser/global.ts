import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { TestProject } from 'vitest/node'
import { launchChromium } from './chromium'
import { enterByDemoDoor, PEOPLE, type Person, type SignedIn, startProduct } from './product'
import { whenScored } from './when-scored'

declare module 'vitest' {
  interface ProvidedContext {
    /** Where the product with the demo is. */
    address: string
    /** Its folder. */
    home: string
    /** The demo's people, signed in. A file that writes does so as a person whose organisation no other file reads. */
    signedIn: Record<Person, SignedIn>
  }
}

/** One product with the demo for all files, which run side by side; built first where no build is there. */
export default async function setUp(project: TestProject): Promise<() => Promise<void>> {
  const home = fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-browser-'))
  fs.chmodSync(home, 0o755)
  const product = await startProduct(home)
  await whenScored(home)
  project.provide('address', product.address)
  project.provide('home', home)
  project.provide('signedIn', await signIn(product.address))
  return async () => {
    await product.end()
    fs.rmSync(home, { recursive: true, force: true })
  }
}

async function signIn(address: string): Promise<Record<Person, SignedIn>> {
  const browser = await launchChromium()
  try {
    const entered: [Person, SignedIn][] = []
    for (const person of PEOPLE) entered.push([person, await enterByDemoDoor(browser, address, person)])
    return Object.fromEntries(entered) as Record<Person, SignedIn>
  } finally {
    await browser.close()
  }
}
