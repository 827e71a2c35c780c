import { beforeAll, describe, expect, test } from 'vitest'
import { parseTokenText, writeTokenText } from '@/lib/people/token-text'
import { makeToken, personOfToken } from '@/lib/people/tokens'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { type OrganisationId, organisationId } from '@/lib/store/organisation-id'
import { readTokens } from '@/lib/store/read/tokens'
import { withOrganisation } from '@/lib/store/with-organisation'
import { createOrganisation } from '@/lib/store/write/create-organisation'
import { revokeToken } from '@/lib/store/write/revoke-token'
import { runSql, testDatabase } from '../store/test-database'

const { database, adminUrl } = await testDatabase()
const NOW = new Date('2026-03-01T12:00:00Z')
const later = (seconds: number) => new Date(NOW.getTime() + seconds * 1000)

let ours: OrganisationId
let theirs: OrganisationId
const start = async (name: string) =>
  organisationId((await createOrganisation(database, { name, settings: DEFAULT_SETTINGS, now: NOW }))!)
const make = (organisation: OrganisationId, name = 'tracker') =>
  withOrganisation(
    database,
    organisation,
    (scope) => makeToken(scope, { name, role: 'planner', by: null, now: NOW }),
    'write',
  )

beforeAll(async () => {
  ours = await start('ours')
  theirs = await start('theirs')
})

test('a token speaks for its organisation in its role, under its own name', async () => {
  const text = await make(ours)
  expect(text).toMatch(/^gudgeon_[\w-]{86}$/)
  expect(await personOfToken(database, text, NOW)).toEqual({
    person: { id: parseTokenText(text)!.id, name: 'tracker' },
    organisation: ours,
    organisationName: 'ours',
    role: 'planner',
  })
})

test('nothing that is kept gives a token back', async () => {
  const text = await make(ours)
  const { id, secret } = parseTokenText(text)!
  const [row] = await runSql(adminUrl, `select tokens::text as text from tokens where id = '${id}'`)
  expect(String(row?.text)).not.toContain(secret.toString('hex'))
  expect(String(row?.text)).not.toContain(text.slice(-43))
})

describe('nobody is', () => {
  test.each(['', 'gudgeon_', 'Bearer x', `gudgeon_${'A'.repeat(86)}`, 'ü'.repeat(94)])(
    '"%s"',
    async (text) => {
      expect(await personOfToken(database, text, NOW)).toBeNull()
    },
  )

  test('a token with another secret, cut short, or drawn out', async () => {
    const text = await make(ours)
    const parts = parseTokenText(text)!
    const flipped = Buffer.from(parts.secret)
    flipped[0]! ^= 1
    expect(await personOfToken(database, writeTokenText({ ...parts, secret: flipped }), NOW)).toBeNull()
    for (const other of [text.slice(0, -1), `${text}A`, `${text}=`, text.toUpperCase()])
      expect(await personOfToken(database, other, NOW)).toBeNull()
  })

  test('a token that names another organisation than its own', async () => {
    const parts = parseTokenText(await make(ours))!
    const moved = writeTokenText({ ...parts, organisation: theirs })
    expect(await personOfToken(database, moved, NOW)).toBeNull()
  })

  test('a token that was revoked, at once; another organisation cannot revoke it', async () => {
    const text = await make(ours)
    const { id } = parseTokenText(text)!
    const revoke = (organisation: OrganisationId) =>
      withOrganisation(database, organisation, (scope) => revokeToken(scope, { id, now: NOW }), 'write')
    expect(await revoke(theirs)).toBe(false)
    expect(await personOfToken(database, text, NOW)).not.toBeNull()
    expect(await revoke(ours)).toBe(true)
    expect(await personOfToken(database, text, NOW)).toBeNull()
    expect(await revoke(ours)).toBe(false)
  })
})

test('the last use is noted, once a minute at most', async () => {
  const text = await make(theirs)
  const lastUsed = async () => (await withOrganisation(database, theirs, readTokens))[0]?.lastUsedAt
  expect(await lastUsed()).toBeNull()
  await personOfToken(database, text, later(1))
  expect(await lastUsed()).toEqual(later(1))
  await personOfToken(database, text, later(50))
  expect(await lastUsed()).toEqual(later(1))
  await personOfToken(database, text, later(62))
  expect(await lastUsed()).toEqual(later(62))
})

test('every organisation lists its own', async () => {
  const own = await withOrganisation(database, theirs, readTokens)
  expect(own).toHaveLength(1)
  expect((await withOrganisation(database, ours, readTokens)).map(({ id }) => id)).not.toContain(own[0]!.id)
})
