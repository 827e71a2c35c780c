import { beforeAll, expect, test } from 'vitest'
import { runToken } from '@/lib/commands/token'
import { personOfToken } from '@/lib/people/tokens'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { createOrganisation } from '@/lib/store/write/create-organisation'
import { testDatabase } from '../store/test-database'

const { database, adminUrl, url } = await testDatabase()
const NOW = new Date('2026-03-01T12:00:00Z')

beforeAll(async () => {
  for (const [i, name] of ['Fen & Moor', 'Ärger "B"'].entries())
    await createOrganisation(database, { name, settings: DEFAULT_SETTINGS, now: new Date(NOW.getTime() + i) })
})

async function run(...argv: string[]) {
  const [written, said]: [string[], string[]] = [[], []]
  const io = {
    write: (text: string) => void written.push(text),
    say: (line: string) => void said.push(line),
    now: NOW,
  }
  const code = await runToken(argv, { DATABASE_URL: adminUrl, DATABASE_APP_URL: url }, io)
  return { code, written: written.join(''), said: said.join('\n') }
}

test('without arguments it prints the names of the organisations, one a line', async () => {
  expect(await run()).toEqual({ code: 0, written: 'Fen & Moor\nÄrger "B"\n', said: '' })
})

test('with an organisation and a role it prints the token alone', async () => {
  const { code, written } = await run('--organisation', 'Ärger "B"', '--role', 'technician')
  expect(code).toBe(0)
  expect(written).toMatch(/^gudgeon_\S+\n$/)
  expect(await personOfToken(database, written.trim(), NOW)).toMatchObject({
    organisationName: 'Ärger "B"',
    role: 'technician',
  })
})

test.each([
  { argv: ['--organisation', 'Nobody', '--role', 'planner'], says: 'there are: Fen & Moor, Ärger "B"' },
  { argv: ['--organisation', 'Fen & Moor', '--role', 'king'], says: 'owner, planner, technician, reader' },
  { argv: ['--organisation', 'Fen & Moor'], says: '--role is missing' },
  { argv: ['--role', 'planner'], says: '--organisation is missing' },
  { argv: ['--colour', 'red'], says: '--colour' },
])('$argv stops with one line that says what to do', async ({ argv, says }) => {
  const { code, written, said } = await run(...argv)
  expect({ code, written }).toEqual({ code: 2, written: '' })
  expect(said).toContain(says)
  expect(said).not.toContain('\n')
})
