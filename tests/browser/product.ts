import { type ChildProcess, spawn } from 'node:child_process'
import net from 'node:net'
import type { Browser, BrowserContext } from 'playwright-core'

/** The product, started as its user starts it. */
export type Product = {
  address: string
  process: ChildProcess
  /** Everything that it has said so far. */
  said(): string
  /** Sends a signal and waits for the end; the exit code. */
  end(signal?: NodeJS.Signals): Promise<number | null>
}

/** Starts the product on a port and a home of its own, and waits until it says where it is. */
export async function startProduct(home: string, variables: Record<string, string> = {}): Promise<Product> {
  const port = await freePort()
  const child = spawn(process.execPath, ['--import', 'tsx', 'lib/commands/serve.ts'], {
    env: { ...process.env, GUDGEON_HOME: home, PORT: String(port), ...variables },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let text = ''
  const exited = new Promise<number | null>((resolve) => child.once('exit', (code) => resolve(code)))
  await new Promise<void>((resolve, reject) => {
    const listen = (data: Buffer) => {
      text += data
      if (text.includes('Gudgeon is at')) resolve()
    }
    child.stdout.on('data', listen)
    child.stderr.on('data', listen)
    child.once('exit', () => reject(new Error(`The product ended before it was up:\n${text}`)))
  })
  return {
    address: `http://localhost:${port}`,
    process: child,
    said: () => text,
    end: (signal = 'SIGTERM') => {
      child.kill(signal)
      return exited
    },
  }
}

/** What a browser keeps of somebody who is signed in, for `newPage` and `newContext`. */
export type SignedIn = { storageState: Awaited<ReturnType<BrowserContext['storageState']>> }

/** The demo's people, in the order of its door. */
export const PEOPLE = ['fleet', 'dealer', 'shop'] as const
export type Person = (typeof PEOPLE)[number]

/** Comes in by the demo door as one of its people, without script and to a page that is quickly there. */
export async function enterByDemoDoor(
  browser: Browser,
  address: string,
  person: Person = 'fleet',
): Promise<SignedIn> {
  const page = await browser.newPage({ javaScriptEnabled: false })
  await page.goto(`${address}/door?from=/new-vehicle`)
  const doors = page.getByRole('region', { name: 'Look around' }).getByRole('button')
  await doors.nth(PEOPLE.indexOf(person)).click()
  await page.waitForURL(`${address}/new-vehicle`)
  const storageState = await page.context().storageState()
  await page.close()
  return { storageState }
}

export function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const server = net.createServer().listen(0, '127.0.0.1', () => {
      const address = server.address()
      server.close(() => resolve(typeof address === 'object' && address ? address.port : 0))
    })
  })
}
