import { type ChildProcess, spawn } from 'node:child_process'
import net from 'node:net'
import path from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { SIGN_IN_SECRET_VARIABLE } from '@/lib/people/sign-in-secret'
import { PRODUCT_DATABASE_VARIABLE } from '@/lib/store/product-database-variable'
import { PROJECT } from './project.mjs'

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
  /** What signs the cookies of whoever signs in. */
  signInSecret: string
}

/**
 * Begins to load the web server, which takes seconds, before there is a database.
 *
 * @returns what opens it to people, given the product's address of the database
 */
export function loadWebServer(options: Options): (productDatabase: string) => WebServer {
  // While pages are being written Next has a process of its own between, which cannot be told of the database later.
  const loaded = options.dev ? null : begin(options, {})
  return (productDatabase) => {
    const variables = { [PRODUCT_DATABASE_VARIABLE]: productDatabase }
    const begun = loaded ?? begin(options, variables)
    void loaded?.listening.then(() => loaded.child.send(variables))
    return opened(begun, options)
  }
}

/** A web server on its way: `listening` for what it is to be told. */
type Begun = { child: ChildProcess; listening: Promise<void>; exited: Promise<void> }

function begin({ port, host, dev, signInSecret }: Options, more: Record<string, string>): Begun {
  const program = dev
    ? [path.join(PROJECT, 'node_modules/next/dist/bin/next'), 'dev', '-p', String(port), '-H', host]
    : ['--max-semi-space-size=64', path.join(import.meta.dirname, 'web-process.mjs'), String(port), host]
  // The web server knows the product's address and none of an administrator.
  const { DATABASE_URL: _, DATABASE_APP_URL: __, ...inherited } = process.env
  const env: NodeJS.ProcessEnv = {
    ...inherited,
    NODE_ENV: dev ? 'development' : 'production',
    NEXT_TELEMETRY_DISABLED: '1',
    GUDGEON_HOST: host,
    [SIGN_IN_SECRET_VARIABLE]: signInSecret,
    ...more,
  }
  const child = spawn(process.execPath, program, {
    cwd: PROJECT,
    env,
    // Its own lines would hide ours; the channel tells it of the database, and when we die without having stopped it.
    stdio: ['ignore', dev ? 'inherit' : 'ignore', 'inherit', 'ipc'],
  })
  const once = (event: 'message' | 'exit') =>
    new Promise<void>((resolve) => child.once(event, () => resolve()))
  return { child, listening: once('message'), exited: once('exit') }
}

function opened({ child, exited }: Begun, { port, host }: Options): WebServer {
  let told = false
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
