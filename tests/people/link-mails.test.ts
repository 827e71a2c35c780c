/** The actions that send links: what goes out, to whom, and what whoever presses is told. */
import { afterAll, beforeEach, expect, test, vi } from 'vitest'
import { sendReset } from '@/app/(door)/reset-actions'
import { RESET_WORDS } from '@/app/(door)/reset-words'
import { invitePerson } from '@/app/(people)/settings/people/people-actions'
import { UNTOUCHED } from '@/app/ui/form-state'
import { openInvitation } from '@/lib/people/invitations'
import { resetPassword } from '@/lib/people/password-reset'
import { SIGN_IN_SECRET_VARIABLE } from '@/lib/people/sign-in-secret'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { productDatabase } from '@/lib/store/product-database'
import { PRODUCT_DATABASE_VARIABLE } from '@/lib/store/product-database-variable'
import { mailServer } from '../jobs/mail-server'
import { anOrganisation } from '../store/example-records'
import { testDatabase } from '../store/test-database'
import { signedIn } from './signed-in'
import { anOwner } from './somebody'

/** The request, and what is to be done once it is answered. */
const asked = vi.hoisted(() => ({ headers: new Headers(), later: [] as (() => Promise<void>)[] }))
vi.mock('next/headers', () => ({
  headers: async () => asked.headers,
  cookies: async () => ({ get: () => undefined, set: () => {} }),
}))
vi.mock('next/cache', () => ({ refresh: () => {} }))
vi.mock('next/server', () => ({ after: (work: () => Promise<void>) => asked.later.push(work) }))

process.env[SIGN_IN_SECRET_VARIABLE] = 'a secret of the tests that is at least thirty-two long'
const { database, adminUrl, url } = await testDatabase()
process.env[PRODUCT_DATABASE_VARIABLE] = url
afterAll(async () => (await productDatabase()).$disconnect())
const { url: smtpUrl, inbox, refused } = await mailServer()
const MAIL = {
  SMTP_URL: smtpUrl,
  MAIL_FROM: 'Gudgeon <gudgeon@example.com>',
  PUBLIC_ADDRESS: 'https://fleet.example/',
}

const organisation: OrganisationId = await anOrganisation(database, 'mailing')
const owner = await signedIn({ database, adminUrl }, { organisation, role: 'owner' })

beforeEach(() => {
  Object.assign(process.env, MAIL)
  asked.headers = owner.headers
  asked.later = []
  inbox.length = 0
  refused.clear()
})

const formOf = (fields: Record<string, string>) => {
  const form = new FormData()
  for (const [name, value] of Object.entries(fields)) form.append(name, value)
  return form
}
const invite = async (mail: string) => (await invitePerson(UNTOUCHED, formOf({ mail, role: 'planner' }))).done
const keyIn = (text: string | undefined, page: string) =>
  new RegExp(`https://fleet\\.example/${page}/(\\S+)`).exec(text ?? '')?.[1] ?? ''

test('an invitation is mailed to whom it is for, and shown to nobody else', async () => {
  const done = await invite('Bo@mill.example')
  expect(done?.once).toBeUndefined()
  expect(inbox.map(({ to }) => to)).toEqual(['Bo@mill.example'])
  const key = keyIn(inbox[0]?.mail.text, 'invitation')
  expect(await openInvitation(database, key, new Date())).toMatchObject({
    ok: true,
    invitation: { mail: 'bo@mill.example', role: 'planner' },
  })
})

test('what the mail server does not take, or where there is none, the owner is handed', async () => {
  refused.add('bo@mill.example')
  const notTaken = await invite('bo@mill.example')
  expect(notTaken?.words).toContain('was not taken')
  delete process.env.SMTP_URL
  const noMail = await invite('ann@mill.example')
  expect(noMail?.words).toContain('Mail is not set up')
  for (const once of [notTaken?.once, noMail?.once])
    expect(await openInvitation(database, keyIn(once, 'invitation'), new Date())).toMatchObject({ ok: true })
  expect(inbox).toEqual([])
})

test('a name with a line break in it writes no header of its own', async () => {
  const { changeOwnName } = await import('@/lib/people/own-account')
  await changeOwnName(database, owner.headers, 'Ann\r\nBcc: all@mill.example')
  await invite('cy@mill.example')
  expect(inbox.map(({ to }) => to)).toEqual(['cy@mill.example'])
  expect(inbox[0]?.mail.bcc).toBeUndefined()
  expect(inbox[0]?.raw.split('\r\n\r\n')[0]).not.toMatch(/^Bcc:/m)
})

test('a link for a new password goes to whoever has the account; the answer is the same for any address', async () => {
  await anOwner(database, 'Wren', 'wren@mill.example', new Date())
  const answers = []
  for (const mail of ['wren@mill.example', 'nobody@mill.example'])
    answers.push(await sendReset(UNTOUCHED, formOf({ mail })))
  expect(answers[0]?.done?.words).toBe(RESET_WORDS.sent)
  expect(answers[1]).toEqual(answers[0])
  // Nothing was looked up before the answers were given.
  expect(inbox).toEqual([])
  for (const work of asked.later) await work()
  expect(inbox.map(({ to }) => to)).toEqual(['wren@mill.example'])
  const key = keyIn(inbox[0]?.mail.text, 'reset')
  expect(await resetPassword(database, { key, password: 'another that is long enough' })).toBe(true)
})

test('a mail server that refuses changes nothing of the answer', async () => {
  await anOwner(database, 'Robin', 'robin@mill.example', new Date())
  refused.add('robin@mill.example')
  expect((await sendReset(UNTOUCHED, formOf({ mail: 'robin@mill.example' }))).done?.words).toBe(
    RESET_WORDS.sent,
  )
  for (const work of asked.later) await work()
  expect(inbox).toEqual([])
})

test('where no mail goes out, nobody is told that one does', async () => {
  delete process.env.PUBLIC_ADDRESS
  const { errors } = await sendReset(UNTOUCHED, formOf({ mail: 'wren@mill.example' }))
  expect(errors).toEqual([{ field: null, message: RESET_WORDS.noMail }])
  expect(asked.later).toEqual([])
})
