import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises'
import os from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { writeDemos } from '@/lib/commands/write-demo'
import { readFolder } from '@/lib/intake/read-folder'
import { parseLibrary } from '@/lib/records/library'
import { dayIn } from '@/lib/units/dates'

const NOW = new Date('2026-06-30T12:00:00Z')
let folder: string
const said: string[] = []

beforeAll(async () => {
  folder = await mkdtemp(path.join(os.tmpdir(), 'demo-'))
  await writeDemos(folder, NOW, { write: () => {}, say: (line) => said.push(line), now: NOW })
})
afterAll(() => rm(folder, { recursive: true }))

test('each organisation is written as a folder that is taken in without a rejected row', async () => {
  const organisations = await readdir(folder)
  expect(organisations).toHaveLength(3)
  for (const organisation of organisations) {
    const own = path.join(folder, organisation)
    const library = parseLibrary(await readFile(path.join(own, 'library.json'), 'utf8'))
    if (!library.ok) throw new Error(library.errors[0]?.message)
    const { records, rejected } = await readFolder(own, library.library, dayIn('UTC', NOW))
    expect(rejected).toEqual([])
    expect(records.vehicles.length).toBeGreaterThan(200)
    expect(records.repairs.length).toBeGreaterThan(500)
  }
})

test('it says what it wrote, and where', async () => {
  const organisations = await readdir(folder)
  expect(said).toHaveLength(organisations.length)
  for (const organisation of organisations) expect(said.join('\n')).toContain(path.join(folder, organisation))
})
