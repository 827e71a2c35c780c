import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises'
import os from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { writeDemo } from '@/lib/commands/write-demo'
import { readFolder } from '@/lib/intake/read-folder'
import { parseLibrary } from '@/lib/records/library'
import { dayIn } from '@/lib/units/dates'

const NOW = new Date('2026-06-30T12:00:00Z')
let folder: string
const said: string[] = []

beforeAll(async () => {
  folder = await mkdtemp(path.join(os.tmpdir(), 'demo-'))
  await writeDemo(folder, NOW, { write: () => {}, say: (line) => said.push(line), now: NOW })
})
afterAll(() => rm(folder, { recursive: true }))

test('the demo is written as a folder that is taken in without a rejected row', async () => {
  const library = parseLibrary(await readFile(path.join(folder, 'library.json'), 'utf8'))
  if (!library.ok) throw new Error(library.errors[0]?.message)
  const { records, rejected } = await readFolder(folder, library.library, dayIn('UTC', NOW))
  expect(rejected).toEqual([])
  expect(records.vehicles.length).toBeGreaterThan(300)
  expect(records.repairs.length).toBeGreaterThan(1000)
})

test('it says what it wrote, and where', async () => {
  expect(await readdir(folder)).toContain('vehicles.csv')
  expect(said).toHaveLength(1)
  expect(said[0]).toContain(folder)
})
