/**
 * The table of outside checks: what was compared with numbers that this project did not compute.
 *
 * A test file that compares with an outside source declares one check per quantity and tolerance, feeds it,
 * and closes it; closing adds a last test which fails where the row in `tests/reference/README.md` is stale:
 *
 *     const survival = outsideCheck({
 *       what: 'two-stage survival',              // unique, and a literal in the test file
 *       formula: 'S_F = S_U + D',
 *       source: 'two-stage.json (mpmath, 50 digits)',
 *       tolerance: { relative: 1e-9 },
 *     })
 *     it.each(cases)('$id', (c) => survival.close(survivalAt(c.age), c.SF, c.id))
 *     survival.done()
 *
 * Write the rows again with `UPDATE_OUTSIDE_CHECKS=1 npx vitest run --project reference`.
 */
import { existsSync, mkdirSync, readFileSync, renameSync, rmdirSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { expect, it } from 'vitest'

/** Errors are measured absolutely, or relative to the larger of |expected| and `floor` (default 0). */
export type Tolerance = 'exact' | { absolute: number } | { relative: number; floor?: number }

export type OutsideCheck = {
  /** Asserts that two numbers agree within the tolerance; `caseId` names the case in the source. */
  close(actual: number, expected: number, caseId: string): void
  /** Asserts that two values are deeply equal: for words, lists, null and whole numbers. */
  equal(actual: unknown, expected: unknown, caseId: string): void
  /** Call once, after the file's last test: adds the test that compares with the table. */
  done(): void
}

type Description = { what: string; formula: string; source: string; tolerance: Tolerance }
type Row = { file: string; what: string; text: string }

const folder = import.meta.dirname
const README = path.join(folder, 'README.md')
const BEGIN = '<!-- outside checks, generated: begin -->'
const END = '<!-- outside checks, generated: end -->'
const HEAD = [
  '| what | formula | source | cases (values) | largest error | tolerance |',
  '|---|---|---|---|---|---|',
]

export function outsideCheck(description: Description): OutsideCheck {
  const { what, tolerance } = description
  const cases = new Set<string>()
  let values = 0
  let largest = 0
  let failed = false

  const compare = (caseId: string, holds: () => void) => {
    cases.add(caseId)
    values++
    try {
      holds()
    } catch (reason) {
      failed = true
      throw reason
    }
  }

  return {
    close: (actual, expected, caseId) =>
      compare(caseId, () => {
        const error = errorOf(actual, expected, tolerance)
        const said = `${what}, ${caseId}: got ${actual}, expected ${expected}, error ${error}`
        expect(error, said).toBeLessThanOrEqual(limitOf(tolerance))
        largest = Math.max(largest, error)
      }),
    equal: (actual, expected, caseId) =>
      compare(caseId, () => expect(actual, `${what}, ${caseId}`).toEqual(expected)),
    done: () =>
      it(`stands in the table of outside checks: ${what}`, () => {
        const testPath = expect.getState().testPath ?? ''
        const file = path.relative(folder, testPath).split(path.sep).join('/')
        const row = rowOf(description, file, { cases: cases.size, values, largest })
        expect(values, `${what}: nothing was compared`).toBeGreaterThan(0)
        expect(isOrphan(row), `${what}: the name must be a literal in ${file}`).toBe(false)
        if (process.env.UPDATE_OUTSIDE_CHECKS && !failed) writeRow(row)
        const hint = 'stale table: refresh with UPDATE_OUTSIDE_CHECKS=1 npx vitest run --project reference'
        expect(readRows().find((r) => r.what === what)?.text, hint).toBe(row.text)
      }),
  }
}

/** The rows of the table as they stand in the README. */
export function readRows(): Row[] {
  const text = existsSync(README) ? readFileSync(README, 'utf8') : ''
  const table = text.split(BEGIN)[1]?.split(END)[0] ?? ''
  return table.split('\n').flatMap((line) => {
    const match = /^\| \[(.*?)\]\((.*?)\) \|/.exec(line)
    return match?.[1] && match[2] ? [{ what: match[1], file: match[2], text: line }] : []
  })
}

/** A row whose test is gone: its file no longer exists or no longer names it. */
export function isOrphan({ file, what }: Pick<Row, 'file' | 'what'>): boolean {
  const testPath = path.join(folder, file)
  return !existsSync(testPath) || !readFileSync(testPath, 'utf8').includes(what)
}

function errorOf(actual: number, expected: number, tolerance: Tolerance): number {
  if (Object.is(actual, expected) || actual === expected) return 0
  const distance = Math.abs(actual - expected)
  if (!Number.isFinite(distance)) return Number.POSITIVE_INFINITY
  if (tolerance === 'exact' || 'absolute' in tolerance) return distance
  return distance / Math.max(Math.abs(expected), tolerance.floor ?? 0)
}

function limitOf(tolerance: Tolerance): number {
  if (tolerance === 'exact') return 0
  return 'absolute' in tolerance ? tolerance.absolute : tolerance.relative
}

function rowOf(
  { what, formula, source, tolerance }: Description,
  file: string,
  { cases, values, largest }: { cases: number; values: number; largest: number },
): Row {
  const cells = [
    `[${what}](${file})`,
    formula,
    source,
    values === cases ? `${cases}` : `${cases} (${values})`,
    largest === 0 ? 'exact' : `< ${decadeAbove(largest)}`,
    toleranceInWords(tolerance),
  ]
  return { file, what, text: `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |` }
}

/** The next power of ten above an error; a decade, and none below 1e-14, so that rounding does not show. */
function decadeAbove(error: number): string {
  return `1e${Math.max(-14, Math.floor(Math.log10(error)) + 1)}`
}

function toleranceInWords(tolerance: Tolerance): string {
  if (tolerance === 'exact') return 'exact'
  if ('absolute' in tolerance) return `${scientific(tolerance.absolute)} absolute`
  const floor = tolerance.floor ? `, of at least ${tolerance.floor}` : ''
  return `${scientific(tolerance.relative)} relative${floor}`
}

const scientific = (value: number) => value.toExponential().replace('e+0', '').replace('e+', 'e')

/** Replaces one row, drops orphans and sorts; test files run in parallel, so one at a time may do it. */
function writeRow(row: Row): void {
  withLock(() => {
    const kept = readRows().filter((r) => r.what !== row.what && !isOrphan(r))
    const rows = [...kept, row].sort((a, b) => compareText(a.file, b.file) || compareText(a.what, b.what))
    const text = existsSync(README) ? readFileSync(README, 'utf8') : `${BEGIN}\n${END}\n`
    const table = [BEGIN, '', ...HEAD, ...rows.map((r) => r.text), '', END].join('\n')
    const before = text.split(BEGIN)[0] ?? ''
    const after = text.split(END)[1] ?? ''
    writeFileSync(`${README}.new`, before + table + after)
    renameSync(`${README}.new`, README)
  })
}

const compareText = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0)

/** A folder is made by one process only: the simplest lock between test workers. */
function withLock(work: () => void): void {
  const lock = `${README}.lock`
  for (let attempt = 0; ; attempt++) {
    try {
      mkdirSync(lock)
      break
    } catch (reason) {
      if (attempt >= 500) throw reason
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 20)
    }
  }
  try {
    work()
  } finally {
    rmdirSync(lock)
  }
}
