import { beforeAll, describe, expect, test } from 'vitest'
import { type Door, enterAs, type Place, placeOf, readDoor } from '@/lib/people/door'
import { leave } from '@/lib/people/leave'
import { enterWithPassword } from '@/lib/people/password-entry'
import { SIGN_IN_SECRET_VARIABLE } from '@/lib/people/sign-in-secret'
import { type Beginning, startOrganisation } from '@/lib/people/start-organisation'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import { createOrganisation } from '@/lib/store/write/create-organisation'
import { runSql, testDatabase } from '../store/test-database'
import { askPerson } from './ask-person'
import { cookiesOf } from './signed-in'

process.env[SIGN_IN_SECRET_VARIABLE] = 'a secret of the tests that is at least thirty-two long'
const { database, adminUrl } = await testDatabase()

const NOW = new Date()
const PASSWORD = 'long enough to count'
const MAIL = 'Wren.Marsh@example.invalid'
const BEGINNING: Omit<Beginning, 'name'> = {
  currency: 'EUR',
  locale: 'en-IE',
  timeZone: 'UTC',
  distance: 'km',
  vehicleNumber: 'plate',
}
const MACHINE = { demo: true, local: true }
const SERVER = { demo: false, local: false }

const ask = (headers: Headers, chosen?: string) => askPerson(database, { headers, chosen, now: NOW })

const press = (place: Place, person: string) => enterAs(database, place, { person, headers: new Headers() })

let owner: string
let demoPerson: string

beforeAll(async () => {
  expect(await readDoor(database, SERVER)).toEqual<Door>({
    demo: [],
    ownPeople: [],
    start: 'as-first-owner',
    signIn: false,
  })
  await createOrganisation(database, {
    name: 'Invented Fleet',
    settings: DEFAULT_SETTINGS,
    owner: { name: 'Ada Moor', title: 'fleet manager', decides: 'which vehicles to book in' },
    now: NOW,
  })
  const account = { mail: MAIL, password: PASSWORD }
  owner = (await startOrganisation(
    database,
    { ...BEGINNING, name: 'Marsh' },
    { name: 'Wren', account },
    NOW,
  ))!
  demoPerson = (await readDoor(database, MACHINE)).demo[0]!.id
})

describe('the door', () => {
  test('offers the people of the demo while there is one, and one’s own on this machine alone', async () => {
    const own = await startOrganisation(database, { ...BEGINNING, name: 'At home' }, { name: 'Robin' }, NOW)
    const names = async (place: Parameters<typeof readDoor>[1]) => {
      const { demo, ownPeople, start, signIn } = await readDoor(database, place)
      return { demo: demo.map(({ name }) => name), own: ownPeople.map(({ name }) => name), start, signIn }
    }
    expect(await names(MACHINE)).toEqual({
      demo: ['Ada Moor'],
      own: ['Robin'],
      start: 'by-press',
      signIn: true,
    })
    expect(await names({ demo: true, local: false })).toEqual({
      demo: ['Ada Moor'],
      own: [],
      start: null,
      signIn: true,
    })
    expect(await names({ demo: false, local: true })).toEqual({
      demo: [],
      own: ['Robin'],
      start: null,
      signIn: true,
    })
    expect(await names(SERVER)).toEqual({ demo: [], own: [], start: null, signIn: true })
    expect(await press(SERVER, own!)).toBeNull()
    expect(await press({ demo: true, local: false }, own!)).toBeNull()
    expect(await press(SERVER, demoPerson)).toBeNull()
  })

  test('lets nobody in as somebody with a password, wherever it stands', async () => {
    expect(await press(MACHINE, owner)).toBeNull()
    expect(await press(MACHINE, 'no-such-person')).toBeNull()
  })

  test('opens a session for who is chosen', async () => {
    const entered = await press(MACHINE, demoPerson)
    const asked = await ask(cookiesOf(entered!))
    expect(asked).toMatchObject({
      ok: true,
      present: { person: { name: 'Ada Moor' }, organisationName: 'Invented Fleet', role: 'owner' },
    })
  })

  test('a name of an organisation that is taken starts none, and leaves nobody behind', async () => {
    const before = await runSql(adminUrl, 'select count(*)::int as n from people')
    expect(
      await startOrganisation(database, { ...BEGINNING, name: 'Marsh' }, { name: 'Second' }, NOW),
    ).toBeNull()
    expect(await runSql(adminUrl, 'select count(*)::int as n from people')).toEqual(before)
  })
})

describe('where the product stands', () => {
  const headers = (host: string, forwarded = '127.0.0.1') =>
    new Headers({ host, 'x-forwarded-for': forwarded })

  test.each([
    { host: 'localhost:3000', from: '127.0.0.1', listens: '', local: true },
    { host: '[::1]:3000', from: '::1', listens: '::1', local: true },
    { host: '127.0.0.1:80', from: '::ffff:127.0.0.1', listens: '127.0.0.1', local: true },
    { host: 'localhost:3000', from: '127.0.0.1', listens: '0.0.0.0', local: false },
    { host: 'rebound.example:3000', from: '127.0.0.1', listens: '127.0.0.1', local: false },
    { host: 'localhost.example', from: '127.0.0.1', listens: '127.0.0.1', local: false },
    { host: 'localhost:3000', from: '10.0.0.7, 127.0.0.1', listens: '127.0.0.1', local: false },
  ])('listening at "$listens", asked as $host from $from: local $local', ({ host, from, listens, local }) => {
    expect(placeOf({ GUDGEON_HOST: listens }, headers(host, from))).toEqual({ demo: true, local })
    expect(placeOf({ GUDGEON_HOST: listens, GUDGEON_DEMO: 'no' }, headers(host, from)).demo).toBe(false)
  })
})

describe('mail and password', () => {
  const from = (address: string) => new Headers({ 'x-forwarded-for': address })
  const enter = (mail: string, password: string, headers = from('203.0.113.1'), now = NOW) =>
    enterWithPassword(database, { mail, password, headers, now })
  const later = (minutes: number) => new Date(NOW.getTime() + minutes * 60_000)

  test('let the owner in, however the address is written, and nobody else', async () => {
    const entered = await enter(MAIL.toUpperCase(), PASSWORD)
    if (!entered.ok) throw new Error(entered.reason)
    expect(await ask(cookiesOf(entered.headers))).toMatchObject({
      ok: true,
      present: { person: { id: owner, name: 'Wren' }, organisationName: 'Marsh' },
    })
    const wrong = { ok: false, reason: 'wrong' }
    expect(await enter(MAIL, 'not the password')).toEqual(wrong)
    expect(await enter('nobody@example.invalid', PASSWORD)).toEqual(wrong)
    expect(await enter('no address at all', PASSWORD)).toEqual(wrong)
    expect(await enter(MAIL, 'x'.repeat(5000))).toEqual(wrong)
  })

  test('the sixth attempt at an account within a minute is turned away, even with the right password', async () => {
    const now = later(10)
    for (let i = 0; i < 5; i++)
      expect(await enter(MAIL, 'wrong again', from(`203.0.113.${i}`), now)).toMatchObject({ reason: 'wrong' })
    expect(await enter(MAIL, PASSWORD, from('203.0.113.9'), now)).toEqual({ ok: false, reason: 'too-often' })
    expect(await enter(MAIL, PASSWORD, from('203.0.113.9'), later(12))).toMatchObject({ ok: true })
  })

  test('so is the twenty-first from one address, whatever the account', async () => {
    const now = later(20)
    const reasons = []
    for (let i = 0; i < 21; i++)
      reasons.push(await enter(`nobody-${i}@example.invalid`, 'x', from('198.51.100.4'), now))
    expect(reasons.slice(0, 20).every((each) => !each.ok && each.reason === 'wrong')).toBe(true)
    expect(reasons[20]).toEqual({ ok: false, reason: 'too-often' })
  })

  test('attempts that are made at once are all counted', async () => {
    const now = later(30)
    const all = await Promise.all(
      Array.from({ length: 12 }, () => enter(MAIL, 'wrong', from('192.0.2.1'), now)),
    )
    expect(all.filter((each) => !each.ok && each.reason === 'wrong')).toHaveLength(5)
  })
})

describe('a session', () => {
  const enterDemo = async () => cookiesOf((await press(MACHINE, demoPerson))!)

  test('is nobody’s without its cookie, with a forged one, or after its end', async () => {
    const signedOut = { ok: false, reason: 'signed-out' }
    expect(await ask(new Headers())).toEqual(signedOut)
    const cookie = (await enterDemo()).get('cookie')!
    expect(await ask(new Headers({ cookie: cookie.replace(/=(.)/, '=x$1') }))).toEqual(signedOut)
    await runSql(adminUrl, "update sessions set expires_at = now() - interval '1 second'")
    expect(await ask(new Headers({ cookie }))).toEqual(signedOut)
  })

  test('ends where it is left; everywhere when that is asked for', async () => {
    const [here, elsewhere, third] = [await enterDemo(), await enterDemo(), await enterDemo()]
    await leave(database, { headers: here, everywhere: false })
    expect(await ask(here)).toEqual({ ok: false, reason: 'signed-out' })
    expect(await ask(elsewhere)).toMatchObject({ ok: true })
    await leave(database, { headers: elsewhere, everywhere: true })
    expect(await ask(third)).toEqual({ ok: false, reason: 'signed-out' })
    await leave(database, { headers: third, everywhere: true }) // long gone: nothing to do
  })

  test('works in the organisation that was chosen, of those one belongs to, as they are now', async () => {
    const foreign = await createOrganisation(database, {
      name: 'Foreign',
      settings: DEFAULT_SETTINGS,
      now: NOW,
    })
    const other = await createOrganisation(database, { name: 'Other', settings: DEFAULT_SETTINGS, now: NOW })
    const person = await enterDemo()
    const name = async (chosen?: string) => {
      const asked = await ask(person, chosen)
      return asked.ok ? `${asked.present.organisationName}, ${asked.present.role}` : asked.reason
    }
    await runSql(adminUrl, `insert into memberships values ('${other}', '${demoPerson}', 'reader', now())`)
    expect(await name()).toBe('Invented Fleet, owner')
    expect(await name(other!)).toBe('Other, reader')
    expect(await name(foreign!)).toBe('Invented Fleet, owner')
    expect(await name('not an id')).toBe('Invented Fleet, owner')
    const chosen = { headers: person, chosen: other!, now: NOW }
    expect(await askPerson(database, chosen, 'enter-records')).toEqual({ ok: false, reason: 'not-allowed' })
    await runSql(adminUrl, `delete from memberships where person_id = '${demoPerson}'`)
    expect(await name(other!)).toBe('no-organisation')
  })
})
