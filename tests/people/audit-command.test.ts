/** `npm run audit`: what it prints of a whole trail and of a broken one, and its exit codes. */
import { beforeAll, expect, test } from 'vitest'
import { runAudit } from '@/lib/commands/audit'
import { runToken } from '@/lib/commands/token'
import { anOrganisation, NOW } from '../store/example-records'
import { runSql, testDatabase } from '../store/test-database'

const { database, adminUrl, url } = await testDatabase()

beforeAll(async () => {
  await anOrganisation(database, 'Fen & Moor')
  await run(runToken, '--organisation', 'Fen & Moor', '--role', 'reader', '--name', 'tracker')
})

async function run(command: typeof runAudit, ...argv: string[]) {
  const [written, said]: [string[], string[]] = [[], []]
  const io = {
    write: (text: string) => void written.push(text),
    say: (line: string) => void said.push(line),
    now: NOW,
  }
  const code = await command(argv, { DATABASE_URL: adminUrl, DATABASE_APP_URL: url }, io)
  return { code, written: written.join(''), said: said.join('\n') }
}
const audit = (...more: string[]) => run(runAudit, '--organisation', 'Fen & Moor', ...more)

test('a whole trail: how many lines, and its end, which can be asked for later; commands stand in it by name', async () => {
  const found = await audit()
  expect(found).toMatchObject({ code: 0, said: '2 lines, each behind the one before it as it was written' })
  expect(found.written).toMatch(/^2:[0-9a-f]{64}\n$/)
  expect(await audit('--seen', found.written.trim())).toMatchObject({ code: 0 })
  const rows = await runSql(adminUrl, 'select actor, what from audit_lines order by place')
  expect(rows).toEqual([
    { actor: 'command:test', what: 'organisations' },
    { actor: 'command:token', what: 'tokens' },
  ])
})

test('another end than the one that was seen: 1, and which line', async () => {
  expect(await audit('--seen', `2:${'0'.repeat(64)}`)).toEqual({
    code: 1,
    written: '',
    said: 'The audit trail is broken: line 2 is not the one that was seen there',
  })
})

test('a changed line: 1, and which', async () => {
  await runSql(
    adminUrl,
    'alter table audit_lines disable trigger user',
    `update audit_lines set after = jsonb_set(after, '{role}', '"owner"') where place = 2`,
  )
  expect(await audit()).toEqual({
    code: 1,
    written: '',
    said: 'The audit trail is broken: line 2 says something else than it did',
  })
})

test.each([
  { argv: ['--organisation', 'Nobody'], says: 'there are: "Fen & Moor"' },
  { argv: [], says: '--organisation' },
  { argv: ['--organisation', 'Fen & Moor', '--seen', 'x'], says: 'the place and the hash' },
])('$argv stops with one line that says what to do', async ({ argv, says }) => {
  const { code, written, said } = await run(runAudit, ...argv)
  expect({ code, written }).toEqual({ code: 2, written: '' })
  expect(said).toContain(says)
  expect(said).not.toContain('\n')
})
