/** What somebody sees and changes of their own: name, password, sessions; and how a forgotten password is chosen anew. */
import { beforeEach, describe, expect, test } from 'vitest'
import { runResetPassword } from '@/lib/commands/reset-password'
import { enterAs } from '@/lib/people/door'
import { changeOwnName, changeOwnPassword, endOwnSessions, readOwnAccount } from '@/lib/people/own-account'
import { enterWithPassword } from '@/lib/people/password-entry'
import {
  isResetOpen,
  makeReset,
  RESET_MINUTES,
  resetPassword,
  tooManyResets,
} from '@/lib/people/password-reset'
import { signInOf } from '@/lib/people/sign-in'
import { SIGN_IN_SECRET_VARIABLE } from '@/lib/people/sign-in-secret'
import { signMemberOut } from '@/lib/people/sign-member-out'
import { startOrganisation } from '@/lib/people/start-organisation'
import { organisationId } from '@/lib/store/organisation-id'
import { type Membership, readMemberships } from '@/lib/store/read/memberships'
import { withPerson } from '@/lib/store/with-person'
import { runSql, testDatabase } from '../store/test-database'
import { cookiesOf } from './signed-in'
import { anOwner, PASSWORD, signInAs } from './somebody'

process.env[SIGN_IN_SECRET_VARIABLE] = 'a secret of the tests that is at least thirty-two long'
const { database, adminUrl, url } = await testDatabase()

const NOW = new Date()
const NEXT_PASSWORD = 'another that is long enough'
const FIREFOX = 'Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0'

let count = 0
let mail: string
beforeEach(async () => {
  mail = `wren-${++count}@mill.example`
  await anOwner(database, `Wren ${count}`, mail, NOW)
})

const signIn = async (browser = FIREFOX, now = NOW) => (await signInAs(database, mail, { now, browser }))!
const account = (headers: Headers) => readOwnAccount(database, { headers, now: new Date() })
const end = (headers: Headers, which: { id: string } | 'others', password = PASSWORD) =>
  endOwnSessions(database, { headers, now: later(20) }, { which, password })
const personOf = async (headers: Headers) => (await signInOf(database).api.getSession({ headers }))!.user.id
/** Attempts are counted by the minute. */
const later = (minutes: number) => new Date(NOW.getTime() + minutes * 60_000)

describe('sessions', () => {
  test('are listed by when and from what kind of browser, this one marked', async () => {
    const [first, second] = [await signIn(), await signIn('something else')]
    const listed = (await account(second))!.sessions
    expect(listed).toMatchObject([
      { browser: '', isThis: true },
      { browser: 'Firefox on Linux', isThis: false },
    ])
    expect(Math.abs(listed[0]!.since.getTime() - Date.now())).toBeLessThan(60_000)
    expect((await account(first))!.sessions.map(({ isThis }) => isThis)).toEqual([false, true])
  })

  test('keep neither the address of the network nor the whole of what a browser says', async () => {
    await signIn()
    const rows = await runSql(adminUrl, 'select distinct ip_address, user_agent from sessions')
    expect(rows.every(({ ip_address: address }) => address === null)).toBe(true)
    expect(JSON.stringify(rows)).not.toContain('Gecko')
  })

  test('go by what nobody guesses', async () => {
    await Promise.all(Array.from({ length: 3 }, () => signIn()))
    const rows = await runSql(adminUrl, 'select token from sessions')
    const tokens = rows.map(({ token }) => String(token))
    expect(new Set(tokens).size).toBe(tokens.length)
    for (const token of tokens) expect(token).toMatch(/^[A-Za-z0-9]{32}$/)
  })

  test('end one by one, or all others at once, at once', async () => {
    const [here, there, elsewhere] = [await signIn(), await signIn(), await signIn()]
    const [, ended] = (await account(elsewhere))!.sessions
    expect(await end(elsewhere, { id: ended!.id })).toEqual({ ok: true, ended: 1 })
    expect(await account(there)).toBeNull()
    expect(await end(elsewhere, 'others')).toEqual({ ok: true, ended: 1 })
    expect(await account(here)).toBeNull()
    expect((await account(elsewhere))!.sessions).toHaveLength(1)
  })

  test('end where somebody signs in over them, as nobody else’s does', async () => {
    const [here, elsewhere] = [await signIn(), await signIn()]
    const over = new Headers(here)
    over.set('user-agent', FIREFOX)
    const entered = await enterWithPassword(database, {
      mail,
      password: PASSWORD,
      headers: over,
      now: later(1),
    })
    if (!entered.ok) throw new Error(entered.reason)
    expect(await account(here)).toBeNull()
    expect((await account(cookiesOf(entered.headers)))!.sessions).toHaveLength(2)
    expect(await account(elsewhere)).not.toBeNull()
    const wrong = { mail, password: 'not the password', headers: elsewhere, now: later(1) }
    expect(await enterWithPassword(database, wrong)).toMatchObject({ ok: false })
    expect(await account(elsewhere)).not.toBeNull()
  })

  test('of somebody else do not end', async () => {
    const mine = await signIn()
    const { id } = (await account(mine))!.sessions[0]!
    const otherMail = `other-${count}@mill.example`
    await anOwner(database, `Other ${count}`, otherMail, NOW)
    const other = (await signInAs(database, otherMail, { now: NOW }))!
    for (const which of [{ id }, 'others'] as const)
      expect(await end(other, which)).toEqual({ ok: true, ended: 0 })
    expect(await end(new Headers(), { id })).toEqual({ ok: true, ended: 0 })
    expect(await account(mine)).not.toBeNull()
  })

  test('do not end for somebody who found a browser open and does not know the password', async () => {
    const [left, own] = [await signIn(), await signIn()]
    for (let i = 0; i < 5; i++)
      expect(await end(left, 'others', `guess ${i}`)).toEqual({ ok: false, reason: 'wrong' })
    expect(await end(left, 'others')).toEqual({ ok: false, reason: 'too-often' })
    expect(await account(own)).not.toBeNull()
    // Nor is its owner kept from signing in.
    expect(await signInAs(database, mail, { now: later(20) })).not.toBeNull()
  })

  test('of a person of this machine, who has no password, end without one', async () => {
    const beginning = { currency: 'EUR', locale: 'en-IE', timeZone: 'UTC', distance: 'km' } as const
    const here = { ...beginning, name: `At home ${count}`, vehicleNumber: 'plate' } as const
    const person = (await startOrganisation(database, here, { name: `Robin ${count}` }, NOW))!
    const enter = async () =>
      cookiesOf((await enterAs(database, { demo: false, local: true }, { person, headers: new Headers() }))!)
    const [first, second] = [await enter(), await enter()]
    expect(await end(second, 'others', '')).toEqual({ ok: true, ended: 1 })
    expect(await account(first)).toBeNull()
    // Whoever enters over a session leaves it.
    await enterAs(database, { demo: false, local: true }, { person, headers: second })
    expect(await account(second)).toBeNull()
  })

  test('of a member all end for an owner of theirs, and for no other organisation’s', async () => {
    const person = await personOf(await signIn())
    const memberships = await withPerson(database, person, readMemberships)
    const own = organisationId(memberships[0]!.organisation)
    const other = await anOwner(database, `Far ${count}`, `far-${count}@mill.example`, NOW)
    const [{ organisation: far }] = (await withPerson(database, other, readMemberships)) as [Membership]
    const [here, there] = [await signIn(), await signIn()]
    const asking = { person, by: other }
    expect(await signMemberOut(database, { ...asking, organisation: organisationId(far) })).toBeNull()
    expect(await account(here)).not.toBeNull()
    expect(await signMemberOut(database, { ...asking, organisation: own })).toBe(3)
    expect([await account(here), await account(there)]).toEqual([null, null])
    expect(await account(await signIn())).not.toBeNull()
  })
})

test('a name is changed', async () => {
  const headers = await signIn()
  await changeOwnName(database, headers, 'Wren the Younger')
  expect(await account(headers)).toMatchObject({ name: 'Wren the Younger', mail })
})

describe('a password that is changed', () => {
  test('needs the one before, ends every other session, and holds from then on', async () => {
    const [here, elsewhere] = [await signIn(), await signIn()]
    const asking = { headers: here, now: later(2) }
    const change = (current: string) => changeOwnPassword(database, asking, { current, next: NEXT_PASSWORD })
    expect(await change('not the password')).toEqual({ ok: false, reason: 'wrong' })
    expect(await account(elsewhere)).not.toBeNull()
    const changed = await change(PASSWORD)
    if (!changed.ok) throw new Error(changed.reason)
    expect(await account(elsewhere)).toBeNull()
    expect(await account(cookiesOf(changed.headers))).toMatchObject({ sessions: [{ isThis: true }] })
    expect(await signInAs(database, mail, { now: later(4) })).toBeNull()
    expect(await signInAs(database, mail, { now: later(4), password: NEXT_PASSWORD })).not.toBeNull()
  })

  test('is not guessed from a session that somebody left open', async () => {
    const asking = { headers: await signIn(), now: later(6) }
    for (let i = 0; i < 5; i++)
      expect(
        await changeOwnPassword(database, asking, { current: `guess ${i}`, next: NEXT_PASSWORD }),
      ).toEqual({ ok: false, reason: 'wrong' })
    expect(await changeOwnPassword(database, asking, { current: PASSWORD, next: NEXT_PASSWORD })).toEqual({
      ok: false,
      reason: 'too-often',
    })
  })
})

describe('a password that was forgotten', () => {
  const reset = async (key: string, password = NEXT_PASSWORD) => resetPassword(database, { key, password })
  const make = async (now = new Date()) => (await makeReset(database, { mail: mail.toUpperCase(), now }))!.key

  test('is chosen anew by a link that works once, and every session ends', async () => {
    const session = await signIn()
    const key = await make()
    expect(await isResetOpen(database, key, new Date())).toBe(true)
    expect(await reset(key, 'short')).toBe(false)
    expect(await reset(key)).toBe(true)
    expect(await account(session)).toBeNull()
    expect(await signInAs(database, mail, { now: later(8) })).toBeNull()
    expect(await signInAs(database, mail, { now: later(8), password: NEXT_PASSWORD })).not.toBeNull()
    expect(await reset(key, 'a third one, long enough')).toBe(false)
    expect(await isResetOpen(database, key, new Date())).toBe(false)
  })

  test('of two at the same moment one link is used once', async () => {
    const key = await make()
    const tried = await Promise.all([reset(key), reset(key, 'a third one, long enough')])
    expect(tried.filter((worked) => worked)).toHaveLength(1)
  })

  test('a link runs out after an hour, and a newer one ends it', async () => {
    const old = await make(new Date(Date.now() - RESET_MINUTES * 60_000))
    expect(await reset(old)).toBe(false)
    const [first, second] = [await make(), await make()]
    expect(await reset(first)).toBe(false)
    expect(await reset(second)).toBe(true)
  })

  test('of a link the database knows no more than a hash', async () => {
    const key = await make()
    const rows = await runSql(adminUrl, 'select v::text as text from verifications v')
    expect(rows.length).toBeGreaterThan(0)
    for (const { text } of rows) expect(String(text)).not.toContain(key)
  })

  test('is for nobody without an account, and asked for five times a minute', async () => {
    expect(await makeReset(database, { mail: 'nobody@mill.example', now: NOW })).toBeNull()
    const headers = new Headers({ 'x-forwarded-for': '192.0.2.7' })
    const asked = { mail, headers, now: later(10) }
    for (let i = 0; i < 5; i++) expect(await tooManyResets(database, asked)).toBe(false)
    expect(await tooManyResets(database, asked)).toBe(true)
    // Who is kept from asking for links is not kept from signing in.
    expect(await signInAs(database, mail, { now: later(10) })).not.toBeNull()
  })

  test('where no mail goes out, a command prints the link', async () => {
    const [written, said]: [string[], string[]] = [[], []]
    const io = {
      write: (text: string) => void written.push(text),
      say: (line: string) => void said.push(line),
      now: new Date(),
    }
    const variables = {
      DATABASE_URL: adminUrl,
      DATABASE_APP_URL: url,
      PUBLIC_ADDRESS: 'https://fleet.example',
    }
    expect(await runResetPassword(['--mail', mail], variables, io)).toBe(0)
    const [, key] = /^https:\/\/fleet\.example\/reset\/(\S+)\n$/.exec(written.join('')) ?? []
    expect(await reset(key!)).toBe(true)
    expect(await runResetPassword(['--mail', 'nobody@mill.example'], variables, io)).toBe(2)
    expect(said.at(-1)).toContain('nobody signs in')
  })
})
