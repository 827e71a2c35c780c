import { spawn } from 'node:child_process'
import net from 'node:net'
import path from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { SIGN_IN_SECRET_VARIABLE } from '@/lib/people/sign-in-secret'
import { PRODUCT_DATABASE_VARIABLE } from '@/lib/store/product-database'
import { PROJECT } from '../environment'

const ANSWERS_WITHIN_MS = 60_000
const STOPS_WITHIN_MS = 5000

/** Next's server, as a process of its own. */
export type WebServer = {
  /** Settles when it takes connections; fails when it does not come up. */
  answers: Promise<void>
  /** Fails when it ends without having been told to. */
  ended: Promise<never>
  stop(): Promise<void>
}

type Options = {
  port: number
  host: string
  dev: boolean
  /** Where the product's database is, and what signs the cookies of whoever signs in. */
  productDatabase: string
  signInSecret: string
}

export function startWebServer(options: Options): WebServer {
  const { port, host, dev } = options
  const program = dev
    ? [path.join(PROJECT, 'node_modules/next/dist/bin/next'), 'dev', '-p', String(port), '-H', host]
    : [
        '--max-semi-space-size=32',
        '--import',
        'tsx',
        path.join(import.meta.dirname, 'web-process.ts'),
        String(port),
        host,
      ]
  const child = spawn(process.execPath, program, {
    cwd: PROJECT,
    env: webServerEnvironment(options),
    // Its own lines would hide ours; the channel tells it when we die without having stopped it.
    stdio: ['ignore', dev ? 'inherit' : 'ignore', 'inherit', 'ipc'],
  })
  let told = false
  const exited = new Promise<void>((resolve) => child.once('exit', () => resolve()))
  const ended = exited.then(() => {
    if (told) return new Promise<never>(() => {}) // whoever told it to goes on from there
    throw new Error('The web server ended by itself; its last lines say why')
  })
  return {
    answers: Promise.race([untilAnswers(port, host), ended]),
    ended,
    stop: async () => {
      told = true
      child.kill('SIGTERM')
      await Promise.race([exited, sleep(STOPS_WITHIN_MS)])
      child.kill('SIGKILL')
    },
  }
}

/** The web server knows the product's address and none of an administrator. */
function webServerEnvironment({ host, dev, productDatabase, signInSecret }: Options): NodeJS.ProcessEnv {
  const { DATABASE_URL: _, DATABASE_APP_URL: __, ...inherited } = process.env
  return {
    ...inherited,
    NODE_ENV: dev ? 'development' : 'production',
    NEXT_TELEMETRY_DISABLED: '1',
    GUDGEON_HOST: host,
    [PRODUCT_DATABASE_VARIABLE]: productDatabase,
    [SIGN_IN_SECRET_VARIABLE]: signInSecret,
  }
}

export function isPortFree(port: number, host: string): Promise<boolean> {
  return new Promise((resolve) => {
    const probe = net.createServer().once('error', () => resolve(false))
    probe.listen(port, host, () => probe.close(() => resolve(true)))
  })
}

async function untilAnswers(port: number, host: string): Promise<void> {
  const giveUpAt = performance.now() + ANSWERS_WITHIN_MS
  while (!(await takesConnections(port, host))) {
    if (performance.now() > giveUpAt) throw new Error('The web server does not answer')
    await sleep(50)
  }
}

function takesConnections(port: number, host: string): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = net.connect(port, host)
    socket
      .once('error', () => resolve(false))
      .once('connect', () => {
        socket.destroy()
        resolve(true)
      })
  })
}
