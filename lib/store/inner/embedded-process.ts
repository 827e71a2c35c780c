import { execFile } from 'node:child_process'
import fs from 'node:fs'
import net from 'node:net'
import path from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { promisify } from 'node:util'
import { dataFolder, SERVER_ENVIRONMENT } from './embedded-cluster'
import { SERVER_USER } from './embedded-place'
import type { EmbeddedPrograms } from './embedded-programs'

const START_WITHIN_MS = 60_000

/**
 * Joins the server of `place`, or starts it.
 *
 * @param preferredPort the port to listen on when it has to be started; any free one without it
 * @returns the port on 127.0.0.1 where it listens
 * @throws with the end of the server's log when it does not start within a minute
 */
export async function joinOrStart(
  place: string,
  programs: EmbeddedPrograms,
  preferredPort?: number,
): Promise<number> {
  const giveUpAt = performance.now() + START_WITHIN_MS
  for (;;) {
    const port = await portOfRunning(place)
    if (port !== null) return port
    const started = await start(place, programs, preferredPort ?? (await freePort()))
    // After a kill -9 the old server's last children hold its memory for a moment; and another start may be first.
    if (!started && performance.now() > giveUpAt)
      throw new Error(`PostgreSQL does not start: ${endOfLog(place)}`)
    if (!started) await sleep(250)
  }
}

/** Stops the server and waits until its files are closed; connections are cut, open transactions undone. */
export async function stopServer(place: string, programs: EmbeddedPrograms): Promise<void> {
  await pgCtl(place, programs, ['stop', '-m', 'fast', '-w'])
}

async function start(place: string, programs: EmbeddedPrograms, port: number): Promise<boolean> {
  removeStalePidFile(place)
  try {
    await pgCtl(place, programs, ['start', '-w', '-t', '60', '-l', logFile(place), '-o', `-p ${port}`])
    return true
  } catch {
    return false
  }
}

async function pgCtl(place: string, programs: EmbeddedPrograms, args: string[]): Promise<void> {
  const options = { ...SERVER_USER, env: SERVER_ENVIRONMENT, cwd: place }
  await promisify(execFile)(programs.pgCtl, ['-D', dataFolder(place), '-s', ...args], options)
}

type PidFile = { pid: number; port: number; ready: boolean }

/** What a running server says of itself; its lines: process, folder, start, port, socket, address, memory, state. */
function readPidFile(place: string): PidFile | null {
  try {
    const lines = fs.readFileSync(pidFile(place), 'utf8').split('\n')
    return { pid: Number(lines[0]), port: Number(lines[3]), ready: lines[7]?.trim() === 'ready' }
  } catch {
    return null
  }
}

async function portOfRunning(place: string): Promise<number | null> {
  const found = readPidFile(place)
  return found?.ready && isPostgres(found.pid) && (await answers(found.port)) ? found.port : null
}

/** PostgreSQL asks only whether the process exists; a dead one that nobody reaped, or a stranger, does. */
function removeStalePidFile(place: string): void {
  const found = readPidFile(place)
  if (found && !isPostgres(found.pid)) fs.rmSync(pidFile(place), { force: true })
}

function isPostgres(pid: number): boolean {
  try {
    process.kill(pid, 0)
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EPERM') return false
  }
  if (!fs.existsSync('/proc/self/stat')) return true
  try {
    const [, name, state] = /^\d+ \((.*)\) (\w)/s.exec(fs.readFileSync(`/proc/${pid}/stat`, 'utf8')) ?? []
    return name === 'postgres' && state !== 'Z'
  } catch {
    return false
  }
}

function answers(port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = net.connect(port, '127.0.0.1')
    socket.once('connect', () => resolve(true)).once('error', () => resolve(false))
    socket.once('connect', () => socket.destroy())
  })
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = net.createServer().once('error', reject)
    server.listen(0, '127.0.0.1', () => {
      const address = server.address()
      server.close(() => (address && typeof address === 'object' ? resolve(address.port) : reject()))
    })
  })
}

const pidFile = (place: string) => path.join(dataFolder(place), 'postmaster.pid')
const logFile = (place: string) => path.join(place, 'postgres.log')
const endOfLog = (place: string) =>
  fs.existsSync(logFile(place)) ? fs.readFileSync(logFile(place), 'utf8').slice(-1000) : 'it wrote no log'
