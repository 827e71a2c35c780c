/** What coming in, going out and being refused leave in the log: what happened, by ids, and nothing of anybody. */
import { afterAll, beforeAll, expect, test } from 'vitest'
import { enterAs, readDoor } from '@/lib/people/door'
import { leave } from '@/lib/people/leave'
import { changeOwnPassword } from '@/lib/people/own-account'
import { enterWithPassword } from '@/lib/people/password-entry'
import { SIGN_IN_SECRET_VARIABLE } from '@/lib/people/sign-in-secret'
import { startOrganisation } from '@/lib/people/start-organisation'
import { listenToLog } from '../log/logged'
import { runSql, testDatabase } from '../store/test-database'
import { askPerson } from './ask-person'

process.env[SIGN_IN_SECRET_VARIABLE] = 'a secret of the tests that is at least thirty-two long'
const { database, adminUrl } = await testDatabase()

const NOW = new Date()
const MAIL = 'Wren.Marsh@example.invalid'
const PASSWORD = 'Heather On The Moor'
const ADDRESS = '203.0.113.77'
const terms = {
  currency: 'EUR',
  locale: 'en-IE',
  timeZone: 'UTC',
  distance: 'km',
  vehicleNumber: 'plate',
} as const
const headers = new Headers({ 'x-forwarded-for': ADDRESS, 'user-agent': 'Plover 7' })

let owner: string
let log: ReturnType<typeof listenToLog>

beforeAll(async () => {
  const person = { name: 'Wren Marsh', account: { mail: MAIL, password: PASSWORD } }
  owner = (await startOrganisation(database, { ...terms, name: 'Marsh Garage' }, person, NOW)) ?? ''
  log = listenToLog()
})
afterAll(() => log.stop())

const enter = (mail: string, password: string) =>
  enterWithPassword(database, { mail, password, headers, now: NOW })
const withCookies = (answer: Headers) =>
  new Headers({
    cookie: answer
      .getSetCookie()
      .map((each) => each.split(';')[0])
      .join('; '),
  })

test('a walk through the door is told by ids alone', async () => {
  expect(await enter(MAIL, 'not what it is')).toMatchObject({ ok: false })
  expect(await enter('nobody@example.invalid', PASSWORD)).toMatchObject({ ok: false })
  const entered = await enter(MAIL, PASSWORD)
  if (!entered.ok) throw new Error(entered.reason)
  const inside = withCookies(entered.headers)
  await runSql(adminUrl, `update memberships set role = 'reader' where person_id = '${owner}'`)
  expect(
    await askPerson(database, { headers: inside, chosen: undefined, now: new Date() }, 'plan'),
  ).toMatchObject({
    ok: false,
  })
  await leave(database, { headers: inside, everywhere: true })
  for (let i = 0; i < 4; i++) await enter(MAIL, 'once more')

  const events = log.events()
  expect(events.map(({ event }) => event)).toEqual([
    'sign-in failed',
    'sign-in failed',
    'sign-in succeeded',
    'permission refused',
    'session ended',
    'sign-in failed',
    'sign-in failed',
    'sign-in failed',
    'sign-in limited',
  ])
  const [wrong, unknown, succeeded, refused, ended, , , , limited] = events
  expect(succeeded).toMatchObject({ way: 'password', person: owner })
  expect(refused).toMatchObject({ person: owner, act: 'plan', role: 'reader' })
  expect(ended).toMatchObject({ person: owner, scope: 'all' })
  expect(limited).toMatchObject({ limit: 'account', account: wrong?.account, from: wrong?.from })
  expect(unknown?.account).not.toBe(wrong?.account)

  const cookies = inside.get('cookie') ?? ''
  const token = cookies.slice(cookies.indexOf('=') + 1, cookies.indexOf('=') + 20)
  for (const word of [MAIL, 'nobody@', 'Wren', 'Marsh', PASSWORD, 'not what', ADDRESS, 'Plover', token])
    expect(log.text().toLowerCase()).not.toContain(word.toLowerCase())
})

test('a password that is changed, and one that is not, are told without either', async () => {
  const now = new Date(NOW.getTime() + 600_000)
  const entered = await enterWithPassword(database, { mail: MAIL, password: PASSWORD, headers, now })
  if (!entered.ok) throw new Error(entered.reason)
  const inside = withCookies(entered.headers)
  const change = (current: string) =>
    changeOwnPassword(database, { headers: inside, now }, { current, next: 'Bracken By The Brook' })
  expect(await change('not the one before')).toMatchObject({ ok: false })
  expect(await change(PASSWORD)).toMatchObject({ ok: true })
  expect(log.events().slice(-2)).toMatchObject([
    { event: 'password not changed', way: 'knowing-it' },
    { event: 'password changed', way: 'knowing-it', person: owner },
  ])
  for (const word of [PASSWORD, 'not the one', 'Bracken', MAIL])
    expect(log.text().toLowerCase()).not.toContain(word.toLowerCase())
})

test('who comes in at a press is told so', async () => {
  const own = await startOrganisation(database, { ...terms, name: 'At home' }, { name: 'Robin' }, NOW)
  expect((await readDoor(database, { demo: false, local: true })).ownPeople).toHaveLength(1)
  await enterAs(database, { demo: false, local: true }, { person: own ?? '', headers: new Headers() })
  expect(log.events().at(-1)).toMatchObject({ event: 'sign-in succeeded', way: 'press', person: own })
  expect(log.text()).not.toContain('Robin')
})
