/**
 * `npm test`: everything that says whether the product holds. What is tested in the test's own process, then the static
 * checks, beside what is tested of the built product, whose first test builds it and which takes longer; goes on after
 * a failure, so that one run tells all. Ends with one line that counts what passed and what failed.
 */
import { spawn, spawnSync } from 'node:child_process'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { chromiumPath } from './browser/chromium-path'

type Outcome = { name: string; passed: number; failed: number; seconds: number; broken?: string[] }

/** What is read here of the runner's report (its JSON reporter). */
type Report = {
  numPassedTests: number
  numFailedTests: number
  testResults: {
    name: string
    status: string
    message: string
    assertionResults: { fullName: string; status: string; failureMessages: string[] }[]
  }[]
}

const LONG = process.argv.includes('--long')
const environment = { ...process.env, NEXT_TELEMETRY_DISABLED: '1', ...(LONG ? { LONG_TESTS: '1' } : {}) }

/**
 * A program of a package, run by this Node (no shell, no npx) beside others: what it says is told when it has ended, so
 * that theirs does not stand in between.
 */
async function programBeside(heading: string, file: string, ...args: string[]): Promise<boolean> {
  const child = spawn(process.execPath, [path.join('node_modules', file), ...args], {
    stdio: ['ignore', 'pipe', 'pipe'],
    env: environment,
  })
  const said: Buffer[] = []
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (data: Buffer) => said.push(data))
  const status = await new Promise<number | null>((resolve) => child.once('close', resolve))
  console.log(`${heading}\n${Buffer.concat(said)}`)
  return status === 0
}

async function check(name: string, file: string, ...args: string[]): Promise<Outcome> {
  const from = performance.now()
  const passed = (await programBeside(`\n── ${name}`, file, ...args)) ? 1 : 0
  return { name, passed, failed: 1 - passed, seconds: (performance.now() - from) / 1000 }
}

/** Runs test projects; a run that ends badly without a failed test (it could not begin) counts as one failure. */
async function testProjects(projects: string[], ...more: string[]): Promise<Outcome> {
  const report = path.join(os.tmpdir(), `gudgeon-${process.pid}-${projects.join('-')}.json`)
  const args = projects.flatMap((project) => ['--project', project])
  const name = `tests: ${projects.join(', ')}`
  const from = performance.now()
  const held = await programBeside(
    `\n── ${name}`,
    'vitest/vitest.mjs',
    'run',
    ...args,
    ...more,
    '--reporter=default',
    '--reporter=json',
    `--outputFile=${report}`,
  )
  const seconds = (performance.now() - from) / 1000
  const told: Report = fs.existsSync(report)
    ? JSON.parse(fs.readFileSync(report, 'utf8'))
    : { numPassedTests: 0, numFailedTests: 0, testResults: [] }
  fs.rmSync(report, { force: true })
  return {
    name,
    passed: told.numPassedTests,
    failed: Math.max(told.numFailedTests, held ? 0 : 1),
    seconds,
    broken: brokenTests(told),
  }
}

/** Each test that failed, by file and name with the first lines of its reason: told at the end, where it is looked for. */
function brokenTests({ testResults }: Report): string[] {
  return testResults.flatMap(({ name, status, message, assertionResults }) => {
    const file = path.relative(process.cwd(), name)
    const failed = assertionResults.filter((test) => test.status === 'failed')
    if (failed.length === 0) return status === 'failed' ? [`${file}: ${firstLines(message)}`] : []
    return failed.map((test) => `${file}: ${test.fullName}\n  ${firstLines(test.failureMessages.join('\n'))}`)
  })
}

const firstLines = (text: string) => text.split('\n').slice(0, 6).join('\n  ')

/** The browser tests drive a Chromium; Debian has two, and root may fetch them: the quicker, or else the other. */
function bringChromium(): boolean {
  const mayFetch = process.getuid?.() === 0 && fs.existsSync('/usr/bin/apt-get')
  if (mayFetch && !fs.existsSync('/usr/bin/chromium-headless-shell')) {
    const quiet = { stdio: 'ignore' } as const
    spawnSync('apt-get', ['update'], quiet)
    const install = (name: string) =>
      spawnSync('apt-get', ['install', '-y', '--no-install-recommends', name], quiet)
    install('chromium-headless-shell')
    if (chromiumPath() === null) install('chromium')
  }
  if (chromiumPath() !== null) return true
  console.log(
    'There is no Chromium for the browser tests: install it (apt-get install chromium-headless-shell), or set CHROMIUM to one',
  )
  return false
}

/** One after the other, and not while the product is built: the build writes types that are read here. */
async function checkStatically(): Promise<Outcome[]> {
  return [
    await check('types', 'typescript/bin/tsc', '--noEmit'),
    await check('format and lint', '@biomejs/biome/bin/biome', 'check', '--error-on-warnings', '.'),
    await check(
      'layers',
      'dependency-cruiser/bin/dependency-cruise.mjs',
      '--config',
      '.dependency-cruiser.cjs',
      'app',
      'lib',
      'seed',
      'prisma',
    ),
  ]
}

async function testInProcess(): Promise<Outcome[]> {
  const workers = Math.ceil(os.availableParallelism() / 2)
  const tests = await testProjects(['unit', 'reference', 'database', 'people'], `--maxWorkers=${workers}`)
  return [tests, ...(await checkStatically())]
}

/** The built product waits for its database and the browser half of the time, so it may have every core. */
async function testProduct(): Promise<Outcome[]> {
  const api = await testProjects(['api'])
  return [api, await testProjects(['browser'])]
}

const from = performance.now()
const hasBrowser = bringChromium()
const browser = {
  name: 'a browser',
  passed: hasBrowser ? 1 : 0,
  failed: hasBrowser ? 0 : 1,
  seconds: (performance.now() - from) / 1000,
}

console.log('\n── checks and tests: what they say comes when they have ended')
const both = await Promise.all([testInProcess(), testProduct()])
const outcomes: Outcome[] = [browser, ...both.flat()]

console.log()
for (const { name, passed, failed, seconds } of outcomes)
  console.log(
    `${failed === 0 ? 'holds ' : 'FAILS '} ${name}: ${passed} passed, ${failed} failed (${Math.round(seconds)} s)`,
  )
const broken = outcomes.flatMap((outcome) => outcome.broken ?? [])
if (broken.length > 0) console.log(`\nFailed:\n${broken.join('\n')}`)
const sum = (key: 'passed' | 'failed') => outcomes.reduce((total, outcome) => total + outcome[key], 0)
console.log(`\n${sum('passed')} passed, ${sum('failed')} failed`)
process.exit(sum('failed') === 0 ? 0 : 1)
