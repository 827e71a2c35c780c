/**
 * `npm test`: everything that says whether the product holds. Static checks first, then every test project; goes on
 * after a failure, so that one run tells all. Ends with one line that counts what passed and what failed.
 */
import { spawnSync } from 'node:child_process'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { chromiumPath } from './browser/chromium-path'

type Outcome = { name: string; passed: number; failed: number; seconds: number }

const LONG = process.argv.includes('--long')
const environment = { ...process.env, NEXT_TELEMETRY_DISABLED: '1', ...(LONG ? { LONG_TESTS: '1' } : {}) }

function run(command: string, args: string[]): boolean {
  return spawnSync(command, args, { stdio: 'inherit', env: environment }).status === 0
}

/** A program of a package, run by this Node: no shell, no npx. */
const program = (file: string, ...args: string[]) =>
  run(process.execPath, [path.join('node_modules', file), ...args])

function check(name: string, holds: () => boolean): Outcome {
  console.log(`\n── ${name}`)
  const from = performance.now()
  const passed = holds() ? 1 : 0
  return { name, passed, failed: 1 - passed, seconds: (performance.now() - from) / 1000 }
}

/** Runs test projects; a run that ends badly without a failed test (it could not begin) counts as one failure. */
function testProjects(projects: string[]): Outcome {
  const report = path.join(os.tmpdir(), `gudgeon-${process.pid}-${projects.join('-')}.json`)
  const args = projects.flatMap((project) => ['--project', project])
  const name = `tests: ${projects.join(', ')}`
  const { passed: held, seconds } = check(name, () =>
    program(
      'vitest/vitest.mjs',
      'run',
      ...args,
      '--reporter=default',
      '--reporter=json',
      `--outputFile=${report}`,
    ),
  )
  const { numPassedTests = 0, numFailedTests = 0 } = fs.existsSync(report)
    ? JSON.parse(fs.readFileSync(report, 'utf8'))
    : {}
  fs.rmSync(report, { force: true })
  return { name, passed: numPassedTests, failed: Math.max(numFailedTests, held ? 0 : 1), seconds }
}

/** The browser tests drive a Chromium; Debian has one, and root may fetch it. */
function bringChromium(): boolean {
  if (chromiumPath() !== null) return true
  if (process.getuid?.() === 0 && fs.existsSync('/usr/bin/apt-get')) {
    const quiet = { stdio: 'ignore' } as const
    spawnSync('apt-get', ['update'], quiet)
    spawnSync('apt-get', ['install', '-y', '--no-install-recommends', 'chromium'], quiet)
  }
  if (chromiumPath() !== null) return true
  console.log(
    'There is no Chromium for the browser tests: install it (apt-get install chromium), or set CHROMIUM to one',
  )
  return false
}

const outcomes = [
  check('types', () => program('typescript/bin/tsc', '--noEmit')),
  check('format and lint', () => program('@biomejs/biome/bin/biome', 'check', '--error-on-warnings', '.')),
  check('layers', () =>
    program(
      'dependency-cruiser/bin/dependency-cruise.mjs',
      '--config',
      '.dependency-cruiser.cjs',
      'app',
      'lib',
      'seed',
      'prisma',
    ),
  ),
  testProjects(['unit', 'reference', 'database']),
  testProjects(['api']),
  check('a browser', bringChromium),
  testProjects(['browser']),
]

console.log()
for (const { name, passed, failed, seconds } of outcomes)
  console.log(
    `${failed === 0 ? 'holds ' : 'FAILS '} ${name}: ${passed} passed, ${failed} failed (${Math.round(seconds)} s)`,
  )
const sum = (key: 'passed' | 'failed') => outcomes.reduce((total, outcome) => total + outcome[key], 0)
console.log(`\n${sum('passed')} passed, ${sum('failed')} failed`)
process.exit(sum('failed') === 0 ? 0 : 1)
