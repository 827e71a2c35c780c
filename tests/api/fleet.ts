import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { parse } from 'csv-parse/sync'
import { afterAll, expect } from 'vitest'
import { runScore } from '@/lib/commands/score'
import { dayIn } from '@/lib/units/dates'
import { simulatedLibrary } from '../simulation/libraries'
import { codeRow } from '../simulation/record-rows'
import { simulateWorld } from '../simulation/world'
import { writeFolder } from '../simulation/write-folder'
import { ask } from './machine'

export type Row = Record<string, string>
export type Score = Record<string, string | number | null>

/** An invented fleet that lived until yesterday, as a data folder. */
export function fleetFolder(vehicles: number): string {
  const dir = fs.mkdtempSync(path.join(os.tmpdir(), 'gudgeon-fleet-'))
  afterAll(() => fs.rmSync(dir, { recursive: true, force: true }))
  const today = dayIn('UTC', new Date())
  const days = { firstDay: today - 2000, spreadDays: 600, lastDay: today - 1, snapshots: [] }
  const { records, library } = simulateWorld({
    seed: 20261125,
    library: simulatedLibrary('knot', 'experience'),
    vehicles,
    ...days,
  })
  // Its workshop reads codes as signs of a scan; a tracker would send them as codes.
  const coded = records.vehicles.filter((_, i) => i % 2 === 0)
  records.codes = coded.map(({ unit }, i) => codeRow({ unit, seenOn: today - 40 * (i + 1), code: 'P0301' }))
  writeFolder(dir, records, library)
  return dir
}

export const fileText = (dir: string, file: string): string => fs.readFileSync(path.join(dir, file), 'utf8')
export const rowsOf = (csv: string): Row[] => parse(csv, { columns: true, bom: true })

/** What `npm run score` says of a folder, by component, before anything was learned. */
export async function scoredByCommand(dir: string, days: number): Promise<Map<string, Row>> {
  const out: string[] = []
  const io = { write: (text: string) => void out.push(text), say: () => {}, now: new Date() }
  const library = path.join(dir, 'library.json')
  const code = await runScore(
    ['--data', dir, '--library', library, '--days', String(days), '--no-learning'],
    io,
  )
  expect(code).toBe(0)
  return byComponent(rowsOf(out.join('')))
}

export const componentOf = ({ unit, weak_point, position }: Score | Row) =>
  `${unit} ${weak_point} ${position}`
export const byComponent = <Each extends Score | Row>(rows: readonly Each[]): Map<string, Each> =>
  new Map(rows.map((row) => [componentOf(row), row]))

/** Every score of a list, page after page. */
export async function everyScore(token: string, query: string): Promise<Score[]> {
  const scores: Score[] = []
  for (let next: unknown = ''; next !== null; ) {
    const after = next === '' ? '' : `&after=${next}`
    const page = await ask('GET', `/api/v1/scores?${query}${after}`, { token })
    expect(page.status, page.text).toBe(200)
    const { items } = page.json() as { items: Score[] }
    scores.push(...items)
    next = page.json().next
  }
  return scores
}

/** Expects the same components with the same words, and numbers within 1e-9 of each other. */
export function expectSame(scores: readonly Score[], expected: Map<string, Row>): void {
  expect(new Set(scores.map(componentOf))).toEqual(new Set(expected.keys()))
  for (const score of scores)
    for (const [name, value] of Object.entries(expected.get(componentOf(score)) ?? {})) {
      const found = score[name] ?? ''
      if (value === '' || Number.isNaN(Number(value))) expect(String(found), name).toBe(value)
      else expect(Math.abs(Number(found) - Number(value)), `${componentOf(score)} ${name}`).toBeLessThan(1e-9)
    }
}
