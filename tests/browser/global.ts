import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { TestProject } from 'vitest/node'
import { type Database, openDatabase } from '@/lib/store/database'
import { type OrganisationId, organisationId } from '@/lib/store/organisation-id'
import { readLearning } from '@/lib/store/read/learning'
import { readOrganisations } from '@/lib/store/read/organisations'
import { readRescoring } from '@/lib/store/read/rescoring'
import { startDatabase } from '@/lib/store/start-database'
import { withOrganisation } from '@/lib/store/with-organisation'
import { launchChromium } from './chromium'
import { enterByDemoDoor, PEOPLE, type Person, type SignedIn, startProduct } from './product'

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

const MOST_MS = 600_000

/** The pages are there before the demo has been learned from and scored: waits until nothing of that is left to do. */
async function whenScored(home: string): Promise<void> {
  const started = await startDatabase({ home })
  const database = await openDatabase(started.url)
  try {
    const from = Date.now()
    for (const { id } of await readOrganisations(database)) {
      while (await isAtWork(database, organisationId(id))) {
        if (Date.now() - from > MOST_MS) throw new Error('The demo has not been scored for too long')
        await new Promise((resolve) => setTimeout(resolve, 500))
      }
    }
  } finally {
    await database.$disconnect()
    await started.stop()
  }
}

const isAtWork = (database: Database, organisation: OrganisationId): Promise<boolean> =>
  withOrganisation(database, organisation, async (scope) => {
    const { last, failure } = await readLearning(scope)
    if (failure) throw new Error(`The demo could not be learned from: ${failure.message}`)
    return last === null || (await readRescoring(scope, new Date())) !== null
  })
