import { spawn } from 'node:child_process'
import path from 'node:path'
import { Webhook } from 'standardwebhooks'
import { afterEach, describe, expect, test } from 'vitest'
import {
  AGAIN_AFTER_MINUTES,
  CLAIMED_MS,
  deliverWebhooks,
  type WebhookSurroundings,
} from '@/lib/jobs/deliver-webhooks'
import { testWebhook } from '@/lib/jobs/test-webhook'
import { newWebhookSecret } from '@/lib/jobs/webhook-secret'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readStopNotices } from '@/lib/store/read/stop-notices'
import { readWebhookDeliveries } from '@/lib/store/read/webhook-deliveries'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import { putLibrary } from '@/lib/store/write/put-library'
import { putWebhook, renewWebhookSecret } from '@/lib/store/write/put-webhook'
import { raiseStops } from '@/lib/store/write/raise-stops'
import { replaceScores } from '@/lib/store/write/replace-scores'
import { writeDelivery } from '@/lib/store/write/write-delivery'
import { anOrganisation, EXAMPLE, NOW } from '../store/example-records'
import { EXAMPLE_LIBRARY, EXAMPLE_SCORES } from '../store/example-scores'
import { testDatabase } from '../store/test-database'
import { startReceiver, status } from './receiver'

const { database, url } = await testDatabase()
const BY = '01980000-0000-7000-8000-000000000001'
const ANYWHERE: WebhookSurroundings = { anywhere: true, productAddress: 'https://gudgeon.example' }
const START = new Date()
const later = (ms: number) => new Date(START.getTime() + ms)
const MINUTE = 60_000

const open: { stop(): Promise<void> }[] = []
afterEach(async () => {
  await Promise.all(open.splice(0).map((each) => each.stop()))
})
const receiver = async (...answer: Parameters<typeof startReceiver>) => {
  const started = await startReceiver(...answer)
  open.push(started)
  return started
}

const write = <T>(id: OrganisationId, work: (scope: OrganisationScope) => Promise<T>) =>
  withOrganisation(database, id, work, 'write')
const deliveries = (id: OrganisationId) => withOrganisation(database, id, readWebhookDeliveries)
const lastDelivery = async (id: OrganisationId) => {
  const [last] = await deliveries(id)
  if (!last) throw new Error('Nothing was to be told')
  return last
}
const deliver = (id: OrganisationId, now = START, more: Partial<WebhookSurroundings> = {}) =>
  deliverWebhooks(database, id, () => now, { ...ANYWHERE, ...more })

/** An organisation whose B-10 must not be driven, with an address that is told. */
async function organisationTelling(name: string, address: string | null, isOn = true) {
  const id = await anOrganisation(database, name)
  const secret = newWebhookSecret()
  await write(id, async (scope) => {
    await addRecords(scope, EXAMPLE, { now: NOW, by: null })
    await putLibrary(scope, { content: JSON.stringify(EXAMPLE_LIBRARY), now: NOW })
    await replaceScores(scope, EXAMPLE_SCORES, {
      ...{ vehicles: EXAMPLE.vehicles, library: EXAMPLE_LIBRARY, libraryVersion: 1, scoredAt: NOW },
    })
    if (address !== null)
      await putWebhook(scope, { address, isOn, newSecret: secret }, { now: START, by: BY })
  })
  return { id, secret }
}

const raise = (id: OrganisationId, now = START) => write(id, (scope) => raiseStops(scope, now))
const sendTest = (id: OrganisationId, now = START) => write(id, (scope) => testWebhook(scope, now))

describe('a stop', () => {
  test('is told to the address, signed as another’s program verifies it, with nobody’s name', async () => {
    const to = await receiver()
    const { id, secret } = await organisationTelling('telling', to.address)
    expect(await raise(id)).toBe(1)
    await deliver(id)
    expect(to.received).toHaveLength(1)
    const [{ body, headers, path: at }] = to.received as [(typeof to.received)[0]]
    expect(at).toBe('/told')
    const told = new Webhook(secret).verify(body, headers)
    expect(told).toEqual({
      type: 'vehicle.stop',
      timestamp: START.toISOString(),
      data: {
        ...{ unit: 'B-10', weak_point: 'injector', name: 'Injector', position: 3, advice: 'stop' },
        p_fail: expect.any(Number),
        p_low: expect.any(Number),
        p_high: expect.any(Number),
        horizon_days: 90,
        address: 'https://gudgeon.example/vehicles/B-10#stop',
      },
    })
    expect(() => new Webhook(newWebhookSecret()).verify(body, headers)).toThrow()
    expect(() => new Webhook(secret).verify(body.replace('B-10', 'B-11'), headers)).toThrow()
    expect(await deliveries(id)).toMatchObject([
      { kind: 'stop', unit: 'B-10', state: 'delivered', attempts: 1, outcome: 'delivered' },
    ])
    await deliver(id, later(99 * MINUTE))
    expect(to.received).toHaveLength(1)
  })

  test('is written with the notice or not at all, once, and only where somebody wants it', async () => {
    const { id } = await organisationTelling('together', 'https://example.org')
    const undone = new Error('undone')
    const broken = write(id, async (scope) => {
      await raiseStops(scope, START)
      throw undone
    })
    await expect(broken).rejects.toBe(undone)
    expect(await deliveries(id)).toEqual([])
    await Promise.all([1, 2, 3].map((ms) => raise(id, later(ms))))
    expect(await deliveries(id)).toHaveLength(1)

    const off = await organisationTelling('switched off', 'https://example.org', false)
    const none = await organisationTelling('without an address', null)
    for (const { id: silent } of [off, none]) {
      expect(await raise(silent)).toBe(1)
      expect(await deliveries(silent)).toEqual([])
    }
  })

  test('stands first among the stops when three days of trying were for nothing', async () => {
    const to = await receiver(status(500))
    const { id } = await organisationTelling('given up', to.address)
    await raise(id)
    let now = START
    for (const minutes of AGAIN_AFTER_MINUTES) {
      await deliver(id, now)
      const { dueAt, state } = await lastDelivery(id)
      expect([state, dueAt.getTime()]).toEqual(['waiting', now.getTime() + minutes * MINUTE])
      await deliver(id, new Date(dueAt.getTime() - 1)) // not before
      now = dueAt
    }
    expect(to.received).toHaveLength(AGAIN_AFTER_MINUTES.length)
    const notices = () => withOrganisation(database, id, (scope) => readStopNotices(scope, { open: true }))
    expect((await notices())[0]?.undelivered).toBe(false)
    await deliver(id, now)
    expect(now.getTime() - START.getTime()).toBeGreaterThanOrEqual(3 * 24 * 60 * MINUTE)
    expect(await deliveries(id)).toMatchObject([
      { state: 'failed', outcome: 'status-500', attempts: AGAIN_AFTER_MINUTES.length + 1 },
    ])
    expect(new Set(to.received.map(({ headers }) => headers['webhook-id'])).size).toBe(1)

    await write(
      id,
      ({ tx, organisation }) =>
        // An earlier stop, of which nothing was to be told.
        tx.$executeRaw`
        insert into stop_notices (organisation_id, id, vehicle_id, weak_point, position, raised_at, reason)
        select ${organisation}::uuid, gen_random_uuid(), vehicle_id, 'other', 1, ${NOW}, 'older' from stop_notices limit 1`,
    )
    expect((await notices()).map(({ weakPoint, undelivered }) => [weakPoint, undelivered])).toEqual([
      ['injector', true],
      ['other', false],
    ])
    await deliver(id, new Date(now.getTime() + 30 * 24 * 60 * MINUTE))
    expect(to.received).toHaveLength(AGAIN_AFTER_MINUTES.length + 1)
  })
})

describe('whoever does not take it', () => {
  const tried = async (address: string, more: Partial<WebhookSurroundings> = {}) => {
    const { id } = await organisationTelling(`tried ${Math.random()}`, address)
    await sendTest(id)
    await deliver(id, START, more)
    const { state, outcome, dueAt } = await lastDelivery(id)
    expect([state, dueAt]).toEqual(['waiting', later(AGAIN_AFTER_MINUTES[0] * MINUTE)])
    return { id, outcome }
  }

  test.each([400, 401, 404, 410, 429, 500, 503])('with status %i is told again', async (code) => {
    const to = await receiver(status(code))
    const { id, outcome } = await tried(to.address)
    expect(outcome).toBe(`status-${code}`)
    to.answer(status(204))
    await deliver(id, later(MINUTE))
    expect(await deliveries(id)).toMatchObject([{ state: 'delivered', attempts: 2 }])
    const [first, second] = to.received
    expect([second?.headers['webhook-id'], second?.body]).toEqual([first?.headers['webhook-id'], first?.body])
    expect(second?.headers['webhook-timestamp']).not.toBe(first?.headers['webhook-timestamp'])
  })

  test('by leading elsewhere is not followed', async () => {
    const elsewhere = await receiver()
    for (const code of [301, 302, 307, 308]) {
      const to = await receiver(status(code, { Location: elsewhere.address }))
      expect((await tried(to.address)).outcome).toBe('redirects')
    }
    expect(elsewhere.received).toEqual([])
  })

  test('by hanging up, or not being there', async () => {
    const to = await receiver((_, response) => response.destroy())
    expect((await tried(to.address)).outcome).toBe('no-connection')
    const { address, stop } = await startReceiver()
    await stop()
    expect((await tried(address)).outcome).toBe('no-connection')
  })

  test('by answering nothing is left after ten seconds; of an answer without end its yes is taken', async () => {
    const silent = await receiver(() => {})
    const endless = await receiver((_, response) => {
      const timer = setInterval(() => response.write('x'.repeat(1000)), 50)
      response.on('close', () => clearInterval(timer))
      response.writeHead(200)
    })
    const begun = Date.now()
    const { outcome } = await tried(silent.address)
    expect(outcome).toBe('no-answer')
    expect(Date.now() - begun).toBeLessThan(60_000)
    const { id } = await organisationTelling('endless', endless.address)
    await sendTest(id)
    await deliver(id) // its yes is enough: what follows is not read
    expect(await deliveries(id)).toMatchObject([{ state: 'delivered' }])
    const large = await receiver((_, response) => {
      response.writeHead(200, { large: 'x'.repeat(100_000) }).end()
    })
    expect((await tried(large.address)).outcome).toBe('no-connection')
  })

  test('holds up what comes after it of the same vehicle, and of no other', async () => {
    const to = await receiver((one, response) =>
      status(one.body.includes('"bad"') ? 500 : 200)(one, response),
    )
    const { id } = await organisationTelling('in order', to.address)
    const vehicles = await write(
      id,
      ({ tx }) => tx.$queryRaw<{ id: string }[]>`select id::text from vehicles order by unit limit 2`,
    )
    await raise(id)
    const [notice] = await withOrganisation(database, id, (scope) => readStopNotices(scope, { open: true }))
    await write(id, ({ tx }) => tx.$executeRaw`delete from webhook_deliveries`)
    const add = (vehicle: number, says: string, ms: number) =>
      write(id, (scope) => {
        const [vehicleId, noticeId] = [vehicles[vehicle]!.id, notice!.id]
        const body = JSON.stringify({ data: { says } })
        return writeDelivery(scope, { kind: 'stop', vehicleId, noticeId, body }, later(ms))
      })
    await add(0, 'bad', 0)
    await add(0, 'second', 1)
    await add(1, 'other', 2)
    const said = () => to.received.map(({ body }) => JSON.parse(body).data.says)
    await deliver(id, later(10)) // whoever fails is left for now
    await deliver(id, later(10))
    expect(said()).toEqual(['bad', 'other'])
    to.answer(status(200))
    await deliver(id, later(MINUTE))
    expect(said()).toEqual(['bad', 'other', 'bad', 'second'])
  })
})

describe('a secret', () => {
  test('that is made anew counts beside the one before for a day', async () => {
    const to = await receiver()
    const { id, secret } = await organisationTelling('new secret', to.address)
    const fresh = newWebhookSecret()
    await write(id, (scope) => renewWebhookSecret(scope, fresh, { now: START, by: BY }))
    await sendTest(id)
    await deliver(id)
    const [{ body, headers }] = to.received as [(typeof to.received)[0]]
    for (const known of [secret, fresh]) new Webhook(known).verify(body, headers)

    const dayAfter = later(24 * 60 * MINUTE)
    await sendTest(id, dayAfter)
    await deliver(id, dayAfter)
    const { body: next, headers: signed } = to.received[1]!
    const signature = (known: string) => new Webhook(known).sign(signed['webhook-id']!, dayAfter, next)
    expect(signed['webhook-signature']).toBe(signature(fresh))
    expect(signed['webhook-signature']).not.toContain(signature(secret))
  })

  test('is kept when the address changes, and given out only once', async () => {
    const { id, secret } = await organisationTelling('kept secret', 'https://example.org')
    const changed = { address: 'https://example.net', isOn: true, newSecret: newWebhookSecret() }
    expect(await write(id, (scope) => putWebhook(scope, changed, { now: START, by: BY }))).toBe(false)
    const [kept] = await write(id, ({ tx }) => tx.$queryRaw<object[]>`select address, secret from webhooks`)
    expect(kept).toEqual({ address: 'https://example.net', secret })
  })
})

describe('a name', () => {
  const told = async (addresses: string[][], rules: Partial<WebhookSurroundings>, port: number) => {
    const asked: string[] = []
    const resolve = async (name: string) => {
      asked.push(name)
      return addresses[asked.length - 1] ?? []
    }
    const scheme = rules.anywhere === false ? 'https' : 'http'
    const { id } = await organisationTelling(
      `named ${Math.random()}`,
      `${scheme}://hook.example:${port}/told`,
    )
    await sendTest(id)
    for (let attempt = 0; attempt < addresses.length; attempt++)
      await deliver(id, later(attempt * 10 * MINUTE), { ...rules, resolve })
    const { outcome } = await lastDelivery(id)
    return { asked, outcome }
  }

  test.each([
    [['127.0.0.1']],
    [['93.184.215.14', '127.0.0.1']],
    [['::ffff:10.0.0.1']],
    [['169.254.169.254']],
    [['fd00:ec2::254', '2606:4700::1111']],
  ])('that leads to %j is not told, and nothing connects', async (addresses) => {
    const to = await receiver()
    const found = await told([addresses], { anywhere: false }, to.port)
    expect([found.outcome, found.asked, to.received]).toEqual(['not-allowed', ['hook.example'], []])
  })

  test('is looked up once an attempt, and the connection is made to what was found then', async () => {
    const to = await receiver(status(500))
    // Where it would lead a moment later is never asked: the second answer belongs to the second attempt.
    const found = await told([['127.0.0.1'], ['127.0.0.1']], { anywhere: true }, to.port)
    expect(found.asked).toEqual(['hook.example', 'hook.example'])
    expect(to.received.map(({ headers }) => headers.host)).toEqual([
      `hook.example:${to.port}`,
      `hook.example:${to.port}`,
    ])
  })

  test('that turns to a private address between two attempts is not told there', async () => {
    const to = await receiver()
    // Nobody has it at first, so that nothing leaves this machine; then it leads home.
    const found = await told([[], ['127.0.0.1']], { anywhere: false }, to.port)
    expect([found.outcome, to.received]).toEqual(['not-allowed', []])
  })

  test('that nobody has is tried again', async () => {
    expect((await told([[]], { anywhere: true }, 80)).outcome).toBe('no-such-name')
  })
})

test('whoever is killed in the midst of telling has it told again, under the same id', async () => {
  const to = await receiver(() => {})
  const { id } = await organisationTelling('killed', to.address)
  await raise(id)
  const child = spawn(
    process.execPath,
    ['--import', 'tsx', path.resolve('tests/jobs/deliver-once.ts'), url, String(id)],
    { stdio: 'ignore' },
  )
  await expect.poll(() => to.received.length, { timeout: 120_000 }).toBe(1)
  child.kill('SIGKILL')
  const killedAt = new Date()
  to.answer(status(200))
  await deliver(id, killedAt)
  expect(to.received).toHaveLength(1) // it may still be at work, for all that anybody knows
  await deliver(id, new Date(killedAt.getTime() + CLAIMED_MS))
  expect(await deliveries(id)).toMatchObject([{ state: 'delivered', attempts: 2 }])
  const [first, second] = to.received
  expect([second?.headers['webhook-id'], second?.body]).toEqual([first?.headers['webhook-id'], first?.body])
})

test('another organisation knows nothing of it', async () => {
  const to = await receiver()
  const ours = await organisationTelling('ours alone', to.address)
  const theirs = await organisationTelling('theirs alone', null)
  await raise(ours.id)
  await deliver(theirs.id)
  expect([to.received, await deliveries(theirs.id)]).toEqual([[], []])
})
