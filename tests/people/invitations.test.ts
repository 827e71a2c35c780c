/** Who is asked to join an organisation joins it once, in time, as themself; and its people change under its owners. */
import fc from 'fast-check'
import { beforeEach, describe, expect, test } from 'vitest'
import { INVITATION_DAYS, invite, joinAsNew, joinAsPresent, openInvitation } from '@/lib/people/invitations'
import { SIGN_IN_SECRET_VARIABLE } from '@/lib/people/sign-in-secret'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readInvitations } from '@/lib/store/read/invitations'
import { readMembers } from '@/lib/store/read/members'
import { ROLES, type Role } from '@/lib/store/role'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { changeRole, removeMember } from '@/lib/store/write/change-membership'
import { withdrawInvitation } from '@/lib/store/write/invitation'
import { runs } from '../runs'
import { anOrganisation } from '../store/example-records'
import { runSql, testDatabase } from '../store/test-database'
import { askPerson } from './ask-person'
import { signedIn } from './signed-in'
import { anOwner, PASSWORD, signInAs } from './somebody'

process.env[SIGN_IN_SECRET_VARIABLE] = 'a secret of the tests that is at least thirty-two long'
const { database, adminUrl } = await testDatabase()

const NOW = new Date()
const afterDays = (days: number) => new Date(NOW.getTime() + days * 86_400_000)

let count = 0
let organisation: OrganisationId
let by: string
let mail: string
beforeEach(async () => {
  count++
  organisation = await anOrganisation(database, `inviting ${count}`)
  by = (await signedIn({ database, adminUrl }, { organisation, role: 'owner' })).id
  mail = `bo-${count}@mill.example`
})

const write = <T>(work: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, organisation, work, 'write')
const inviting = async (role: Role = 'technician', to = mail) => {
  const invited = await write((scope) => invite(scope, { mail: to, role, by, now: NOW }))
  if (!invited.ok) throw new Error(invited.reason)
  return invited.key
}
const joinAsBo = (key: string, now = NOW) => joinAsNew(database, key, { name: 'Bo', password: PASSWORD, now })
const members = () => write(readMembers)
const states = async (now = NOW) =>
  (await write((scope) => readInvitations(scope, now))).map(({ state }) => state)

test('whoever is new sets a name and a password, and belongs in the role that was offered', async () => {
  const key = await inviting('planner', mail.toUpperCase())
  expect(await openInvitation(database, key, NOW)).toMatchObject({
    ok: true,
    invitation: { mail, role: 'planner', organisationName: `inviting ${count}`, hasAccount: false },
  })
  expect(await joinAsBo(key)).toMatchObject({ ok: true })
  const headers = await signInAs(database, mail, { now: NOW })
  expect(await askPerson(database, { headers: headers!, chosen: undefined, now: NOW })).toMatchObject({
    ok: true,
    present: { person: { name: 'Bo' }, organisation, role: 'planner' },
  })
  expect(await states()).toEqual(['accepted'])
})

test('a link works once, also for two who press at the same moment', async () => {
  const key = await inviting()
  const joined = await Promise.all([joinAsBo(key), joinAsBo(key), joinAsBo(key)])
  expect(joined.filter(({ ok }) => ok)).toHaveLength(1)
  expect(await joinAsBo(key)).toEqual({ ok: false, reason: 'accepted' })
  expect(await members()).toHaveLength(2)
})

test('it runs out, can be withdrawn, and a newer one to the same address ends it', async () => {
  const late = await inviting()
  expect(await joinAsBo(late, afterDays(INVITATION_DAYS))).toEqual({ ok: false, reason: 'expired' })
  expect(await states(afterDays(INVITATION_DAYS))).toEqual(['expired'])
  const newer = await inviting()
  expect(await openInvitation(database, late, NOW)).toEqual({ ok: false, reason: 'withdrawn' })
  const [open] = await write((scope) => readInvitations(scope, NOW))
  expect(await write((scope) => withdrawInvitation(scope, { id: open!.id, now: NOW }))).toBe(true)
  expect(await joinAsBo(newer)).toEqual({ ok: false, reason: 'withdrawn' })
  expect(await members()).toHaveLength(1)
})

test('no other link opens anything', async () => {
  const key = await inviting()
  const bytes = Buffer.from(key, 'base64url')
  await fc.assert(
    fc.asyncProperty(fc.nat(bytes.length - 1), fc.integer({ min: 1, max: 255 }), async (at, change) => {
      const other = Buffer.from(bytes)
      other[at] = bytes[at]! ^ change
      const opened = await openInvitation(database, other.toString('base64url'), NOW)
      expect(opened).toEqual({ ok: false, reason: 'unknown' })
    }),
    { numRuns: runs(40) },
  )
  for (const text of ['', 'x', `${key}A`, key.slice(0, -1)])
    expect(await openInvitation(database, text, NOW)).toEqual({ ok: false, reason: 'unknown' })
})

test('of the link the database knows no more than a hash', async () => {
  const secret = Buffer.from(await inviting(), 'base64url').subarray(32)
  const [row] = await runSql(
    adminUrl,
    `select i::text as text from invitations i where organisation_id = '${organisation}'`,
  )
  expect(String(row?.text)).not.toContain(secret.toString('hex'))
})

describe('whoever has an account', () => {
  beforeEach(() => anOwner(database, `Bo ${count}`, mail, NOW))

  test('joins as themself once they are signed in, beside where they belong already', async () => {
    const key = await inviting('reader')
    expect(await joinAsBo(key)).toEqual({ ok: false, reason: 'has-account' })
    const nobody = { headers: new Headers(), now: NOW }
    expect(await joinAsPresent(database, key, nobody)).toEqual({ ok: false, reason: 'signed-out' })
    const headers = (await signInAs(database, mail, { now: NOW }))!
    expect(await joinAsPresent(database, key, { headers, now: NOW })).toMatchObject({ ok: true })
    const asked = await askPerson(database, { headers, chosen: organisation, now: NOW })
    expect(asked).toMatchObject({ ok: true, present: { organisation, role: 'reader' } })
    if (asked.ok) expect(asked.present.memberships).toHaveLength(2)
  })

  test('cannot join by an invitation of somebody else, and cannot be invited where they belong', async () => {
    const headers = (await signInAs(database, mail, { now: NOW }))!
    const others = await inviting('owner', `other-${count}@mill.example`)
    const asking = { headers, now: NOW }
    expect(await joinAsPresent(database, others, asking)).toEqual({ ok: false, reason: 'somebody-else' })
    expect(await joinAsPresent(database, await inviting(), asking)).toMatchObject({ ok: true })
    const again = await write((scope) => invite(scope, { mail, role: 'owner', by, now: NOW }))
    expect(again).toEqual({ ok: false, reason: 'belongs-already' })
  })
})

describe('a member', () => {
  test('who is removed is out at once, and what they wished for themself with them', async () => {
    await joinAsBo(await inviting('planner'))
    const headers = (await signInAs(database, mail, { now: NOW }))!
    const ask = () => askPerson(database, { headers, chosen: organisation, now: NOW }, 'plan')
    const bo = (await members()).find(({ name }) => name === 'Bo')!
    expect(await ask()).toMatchObject({ ok: true })
    expect(await write((scope) => changeRole(scope, { person: bo.id, role: 'reader' }))).toBe('changed')
    expect(await ask()).toEqual({ ok: false, reason: 'not-allowed' })
    expect(await write((scope) => removeMember(scope, bo.id))).toBe('changed')
    expect(await ask()).toEqual({ ok: false, reason: 'no-organisation' })
    expect(await write((scope) => removeMember(scope, bo.id))).toBe('no-member')
  })

  test('is noted when they were last here, not at every page', async () => {
    await joinAsBo(await inviting())
    const headers = (await signInAs(database, mail, { now: NOW }))!
    const lastSeen = async () => (await members()).find(({ name }) => name === 'Bo')?.lastSeenAt
    expect(await lastSeen()).toBeNull()
    for (const [minutes, noted] of [
      [0, 0],
      [9, 0],
      [11, 11],
    ] as const) {
      const now = new Date(NOW.getTime() + minutes * 60_000)
      await askPerson(database, { headers, chosen: undefined, now })
      expect(await lastSeen()).toEqual(new Date(NOW.getTime() + noted * 60_000))
    }
  })
})

describe('the last owner', () => {
  test('stays, whatever is tried', async () => {
    for (const role of ROLES.slice(1))
      expect(await write((scope) => changeRole(scope, { person: by, role }))).toBe('last-owner')
    expect(await write((scope) => removeMember(scope, by))).toBe('last-owner')
    expect(await members()).toMatchObject([{ id: by, role: 'owner' }])
  })

  test('is one of two who remove each other at the same moment', async () => {
    const other = await signedIn({ database, adminUrl }, { organisation, role: 'owner' })
    const changes = await Promise.all([
      write((scope) => removeMember(scope, other.id)),
      write((scope) => changeRole(scope, { person: by, role: 'reader' })),
    ])
    expect(changes.sort()).toEqual(['changed', 'last-owner'])
    expect((await members()).filter(({ role }) => role === 'owner')).toHaveLength(1)
  })
})
