/** By https a cookie of ours has a name that browsers take from this host alone. */
import { expect, test } from 'vitest'
import { cookieName, ownCookies } from '@/lib/people/host-cookies'
import { enterWithPassword } from '@/lib/people/password-entry'
import { SIGN_IN_SECRET_VARIABLE } from '@/lib/people/sign-in-secret'
import { startOrganisation } from '@/lib/people/start-organisation'
import { testDatabase } from '../store/test-database'
import { askPerson } from './ask-person'

process.env[SIGN_IN_SECRET_VARIABLE] = 'a secret of the tests that is at least thirty-two long'
const { database } = await testDatabase()
const NOW = new Date()

const by = (proto: string, cookie: string) => new Headers({ 'x-forwarded-proto': proto, cookie })

test('their names are ours without a safe connection, and the host’s own with one', () => {
  expect(cookieName('gudgeon.organisation', by('http', ''))).toBe('gudgeon.organisation')
  expect(cookieName('gudgeon.organisation', by('https', ''))).toBe('__Host-gudgeon.organisation')
  expect(ownCookies(by('http', 'a=1; __Host-b=2'))).toBe('a=1; __Host-b=2')
  expect(ownCookies(by('https', 'a=1;  __Host-b=2; __Host-c=3=='))).toBe('b=2; c=3==')
  expect(ownCookies(new Headers())).toBe('')
})

test('a session is found by the host’s own cookie, and by https not by one that another host may have planted', async () => {
  const account = { mail: 'wren@example.invalid', password: 'a few words together' }
  const terms = { name: 'Marsh', currency: 'EUR', locale: 'en-IE', timeZone: 'UTC', distance: 'km' } as const
  await startOrganisation(database, { ...terms, vehicleNumber: 'plate' }, { name: 'Wren', account }, NOW)
  const entered = await enterWithPassword(database, { ...account, headers: new Headers(), now: NOW })
  if (!entered.ok) throw new Error(entered.reason)
  const cookie = entered.headers.getSetCookie()[0]?.split(';')[0] ?? ''
  const asked = async (headers: Headers) =>
    (await askPerson(database, { headers, chosen: undefined, now: new Date() })).ok
  expect(await asked(by('http', cookie))).toBe(true)
  expect(await asked(by('https', `__Host-${cookie}`))).toBe(true)
  expect(await asked(by('https', cookie))).toBe(false)
  expect(await asked(by('http', `__Host-${cookie}`))).toBe(false)
  // Who signs in by https over it ends it, though its name is another there; over a planted one they end nothing.
  const over = (headers: Headers) => enterWithPassword(database, { ...account, headers, now: NOW })
  expect(await over(by('https', cookie))).toMatchObject({ ok: true })
  expect(await asked(by('http', cookie))).toBe(true)
  expect(await over(by('https', `__Host-${cookie}`))).toMatchObject({ ok: true })
  expect(await asked(by('http', cookie))).toBe(false)
})
