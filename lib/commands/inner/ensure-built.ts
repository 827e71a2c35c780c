import { spawnSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { PROJECT } from './project.mjs'

const BUILD = path.join(PROJECT, '.next/BUILD_ID')
const NEXT = path.join(PROJECT, 'node_modules/next/dist/bin/next')
const SOURCES = [
  'app',
  'lib',
  'public',
  'next.config.ts',
  'proxy.ts',
  'instrumentation.ts',
  'package-lock.json',
]

/** Builds the pages unless a build is there that is newer than everything it was made from. */
export function ensureBuilt(say: (line: string) => void): void {
  const built = fs.existsSync(BUILD) ? fs.statSync(BUILD).mtimeMs : 0
  if (SOURCES.every((source) => newest(path.join(PROJECT, source)) <= built)) return
  say('Building the pages, which takes about a minute …')
  const { status, stdout, stderr } = spawnSync(process.execPath, [NEXT, 'build'], {
    cwd: PROJECT,
    encoding: 'utf8',
    env: { ...process.env, NODE_ENV: 'production', NEXT_TELEMETRY_DISABLED: '1' },
  })
  if (status !== 0) throw new Error(`The pages could not be built:\n${stdout}${stderr}`)
}

/** When anything in it last changed, in ms since 1970; 0 where there is nothing. */
function newest(file: string): number {
  const found = fs.statSync(file, { throwIfNoEntry: false })
  if (!found) return 0
  if (!found.isDirectory()) return found.mtimeMs
  return Math.max(0, ...fs.readdirSync(file).map((name) => newest(path.join(file, name))))
}
