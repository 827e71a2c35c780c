/** The week by mail, to a real mail server: once a person and week, whatever the server refuses or whoever is killed. */
import { beforeEach, expect, test } from 'vitest'
import { type MailSender, oneLine, smtpSender } from '@/lib/jobs/mail'
import { sendDigests } from '@/lib/jobs/send-digests'
import { newDigestSecret, unsubscribe } from '@/lib/people/unsubscribe'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readDigestReaders, readUnsentDigests } from '@/lib/store/read/digest-wishes'
import { withOrganisation } from '@/lib/store/with-organisation'
import { putDigestWish } from '@/lib/store/write/put-digest-wish'
import { anOrganisation } from '../store/example-records'
import { runSql, testDatabase } from '../store/test-database'
import { mailServer } from './mail-server'

const { database, adminUrl } = await testDatabase()

const { url, inbox, refused } = await mailServer()

const from = 'Gudgeon <gudgeon@example.com>'
const send = smtpSender({ smtpUrl: url, from })
/** A Monday at seven in UTC. */
const MONDAY = new Date('2026-03-02T07:00:00Z')
const after = (minutes: number) => new Date(MONDAY.getTime() + minutes * 60_000)
const WEEK_MIN = 7 * 24 * 60

let people = 0
let organisation: OrganisationId
beforeEach(async () => {
  inbox.length = 0
  refused.clear()
  organisation = await anOrganisation(database, `mailed ${people}`)
})

/** Somebody who belongs to the organisation and wants the week on Mondays at seven. */
async function reader(name: string, { account = true } = {}) {
  people++
  const id = `00000000-0000-7000-8000-${String(people).padStart(12, '0')}`
  const mail = `p${people}@mill.example`
  await runSql(
    adminUrl,
    `insert into people (id, name, email, updated_at) values ('${id}', '${name}', '${mail}', now())`,
    `insert into memberships (organisation_id, person_id, role, made_at) values ('${organisation}', '${id}', 'reader', now())`,
    ...(account
      ? [
          `insert into accounts (id, account_id, provider_id, user_id, updated_at)
           values ('${id}', '${id}', 'credential', '${id}', now())`,
        ]
      : []),
  )
  await withOrganisation(
    database,
    organisation,
    (scope) =>
      putDigestWish(scope, id, {
        ...{ wanted: true, weekday: 0, hour: 7, now: new Date('2026-02-20T12:00:00Z') },
        secret: newDigestSecret(),
      }),
    'write',
  )
  return { id, mail }
}

const run = (at: Date, sender: MailSender = send, isStopped?: () => boolean) =>
  sendDigests(
    database,
    organisation,
    { send: sender, publicAddress: 'https://gudgeon.example.com' },
    () => at,
    isStopped,
  )
const unsent = () => withOrganisation(database, organisation, readUnsentDigests)
const gone = () => inbox.map(({ to }) => to).sort()

test('it goes to who wants it, at their hour, once a week; as plain text and as HTML', async () => {
  const [ann, bo] = [await reader('Ann'), await reader('Bo')]
  await reader('without a mail address', { account: false })
  await run(after(-1))
  expect(gone()).toEqual([])
  await run(MONDAY)
  await run(after(60))
  expect(gone()).toEqual([ann.mail, bo.mail].sort())
  const { mail } = inbox[0]!
  expect(mail.subject).toBe('The week from Feb 23, 2026 to Mar 1, 2026')
  expect(mail.from?.value).toEqual([{ name: 'Gudgeon', address: 'gudgeon@example.com' }])
  for (const part of [mail.text, mail.html])
    expect(part).toContain('gudgeon.example.com/digest?to=2026-03-01')
  expect(await unsent()).toEqual([])
  await run(after(WEEK_MIN))
  expect(inbox).toHaveLength(4)
  expect(new Set(inbox.map(({ mail: each }) => each.messageId)).size).toBe(4)
})

test('it can be stopped without signing in by what its header says, and only by that', async () => {
  const { mail: to } = await reader('Ann')
  await run(MONDAY)
  const { headers } = inbox[0]!.mail
  const list = headers.get('list') as unknown as { unsubscribe: { url: string }; 'unsubscribe-post': object }
  expect(inbox[0]!.raw).toMatch(/^List-Unsubscribe-Post: List-Unsubscribe=One-Click\r$/m)
  const key = list.unsubscribe.url.match(
    /^https:\/\/gudgeon\.example\.com\/unsubscribe\/([\w-]{64})\/one-click$/,
  )![1]!
  const at = after(10)
  expect(await unsubscribe(database, `${key.slice(0, -1)}_`, at)).toBe(false)
  expect(await unsubscribe(database, 'no key', at)).toBe(false)
  expect(await withOrganisation(database, organisation, readDigestReaders)).toHaveLength(1)
  expect(await unsubscribe(database, key, at)).toBe(true)
  expect(await unsubscribe(database, key, at)).toBe(true)
  await run(after(WEEK_MIN))
  expect(gone()).toEqual([to])
})

test('whom the server refuses keeps nobody else waiting, is tried again later and later, and is told to the owner', async () => {
  const [ann, bo, cy] = [await reader('Ann'), await reader('Bo'), await reader('Cy')]
  refused.add(bo.mail)
  await run(MONDAY)
  expect(gone()).toEqual([ann.mail, cy.mail].sort())
  expect(await unsent()).toMatchObject([{ name: 'Bo', tries: 1, nextTryAt: after(5) }])
  expect((await unsent())[0]!.failure).toContain('550')
  await run(after(4))
  expect((await unsent())[0]!.tries).toBe(1)
  await run(after(5))
  expect((await unsent())[0]).toMatchObject({ tries: 2, nextTryAt: after(20) })
  refused.clear()
  await run(after(20))
  await run(after(300))
  expect(gone()).toEqual([ann.mail, bo.mail, cy.mail].sort())
  expect(await unsent()).toEqual([])
})

test('a server that is not there fails each with its reason, and is given up after some days', async () => {
  await reader('Ann')
  const nobody = smtpSender({ smtpUrl: 'smtp://127.0.0.1:1', from })
  await run(MONDAY, nobody)
  expect((await unsent())[0]!.failure).toMatch(/ECONNREFUSED/)
  for (let at = 0; at < WEEK_MIN - 60; at += 30) await run(after(at), nobody)
  expect((await unsent())[0]).toMatchObject({ tries: 8, nextTryAt: null })
  expect(gone()).toEqual([])
})

test('who is killed in the middle of the list goes on where it ended; who died before it was noted sends once more', async () => {
  const mails = []
  for (const name of ['A', 'B', 'C', 'D']) mails.push((await reader(name)).mail)
  let sent = 0
  const counted: MailSender = async (mail) => {
    await send(mail)
    sent++
  }
  await run(MONDAY, counted, () => sent === 2)
  expect(inbox).toHaveLength(2)
  await run(after(1), counted)
  expect(gone()).toEqual([...mails].sort())
  await runSql(
    adminUrl,
    `update digest_mails set sent_at = null where id = (select min(id::text)::uuid from digest_mails
    where organisation_id = '${organisation}')`,
  )
  await run(after(2))
  expect(inbox).toHaveLength(4)
  await run(after(6))
  expect(inbox).toHaveLength(5)
  // It is the same mail, by which a reader's program knows it.
  expect(new Set(inbox.map(({ mail }) => mail.messageId)).size).toBe(4)
})

test('two that work at once send each mail once', async () => {
  const mails = []
  for (const name of ['A', 'B', 'C']) mails.push((await reader(name)).mail)
  await Promise.all([run(MONDAY), run(MONDAY), run(MONDAY)])
  expect(gone()).toEqual([...mails].sort())
})

test('a name begins no header of its own', async () => {
  const name = 'Ann\r\nBcc: thief@evil.example\r\n\r\nHello\u2028there'
  await send({ to: { name, address: 'ann@mill.example' }, subject: `a\r\nX-Evil: yes ${name}`, text: 'x' })
  const { raw, mail, to } = inbox[0]!
  expect(to).toBe('ann@mill.example')
  expect(mail.bcc).toBeUndefined()
  const heads = raw.slice(0, raw.indexOf('\r\n\r\n'))
  expect(heads).not.toMatch(/^(Bcc|X-Evil):/im)
  expect(mail.to).toMatchObject({ value: [{ address: 'ann@mill.example' }] })
  expect(mail.text?.trim()).toBe('x')
  expect(oneLine(' a\tb\r\nc\0d\u200be ')).toBe('a b c d e')
})
