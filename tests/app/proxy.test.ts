/** What the proxy answers of itself, before any page is asked. */
import { NextRequest } from 'next/server'
import { expect, test } from 'vitest'
import { proxy } from '@/proxy'
import { listenToLog } from '../log/logged'

const answerTo = (address: string) => proxy(new NextRequest(`http://gudgeon.invalid${address}`))

test('an address with a sign in it that no text of the store can have is told from one of ours', () => {
  for (const address of ['/vehicles/%00', '/?q=V%00', '/vehicles/V-1/said/%00'])
    expect(answerTo(address).status).toBe(400)
  for (const address of ['/vehicles/V-1', '/vehicles/%2500', '/?q=100%25%20000'])
    expect(answerTo(address).status).toBe(200)
})

test('what is refused stands in the log by its kind alone', () => {
  const log = listenToLog()
  answerTo('/vehicles/%00?q=Wren')
  proxy(new NextRequest('http://gudgeon.invalid/q/secret-key', { method: 'POST' }))
  answerTo('/vehicles/V-1')
  const [events, text] = [log.events(), log.text()]
  log.stop()
  expect(events).toMatchObject([
    { event: 'request refused', problem: 'bad-address', status: 400 },
    { event: 'request refused', problem: 'no-length', status: 411 },
  ])
  expect(text).not.toMatch(/Wren|secret-key/)
})

test('what is sent by a label without signing in is small, and says how long it is', () => {
  const sent = (length: string | null, path = '/q/key') => {
    const headers = new Headers(length === null ? {} : { 'content-length': length })
    return proxy(new NextRequest(`http://gudgeon.invalid${path}`, { method: 'POST', headers })).status
  }
  expect([sent('900'), sent('32768')]).toEqual([200, 200])
  expect([sent('32769'), sent('much'), sent(null)]).toEqual([413, 413, 411])
  expect(sent('8000000', '/families/take-in')).toBe(200)
})

test('what a page tells is kept by no cache, and by https the browser is told to stay with it', () => {
  const asked = (address: string, proto = 'http') =>
    proxy(new NextRequest(`http://gudgeon.invalid${address}`, { headers: { 'x-forwarded-proto': proto } }))
      .headers
  for (const address of ['/', '/vehicles/V-1', '/library/3', '/plan.ics', '/vehicles/V-1/records.csv'])
    expect(asked(address).get('Cache-Control'), address).toBe('private, no-store')
  for (const address of ['/at-worker.js', '/icon.svg', '/at.webmanifest', '/at-icon-192.png'])
    expect(asked(address).get('Cache-Control'), address).toBeNull()
  expect(asked('/').get('Strict-Transport-Security')).toBeNull()
  for (const address of ['/', '/vehicles/%00'])
    expect(asked(address, 'https').get('Strict-Transport-Security')).toBe('max-age=31536000')
})

test('every answer carries what browsers are to keep to', () => {
  const { headers } = answerTo('/settings')
  const policy = headers.get('Content-Security-Policy') ?? ''
  const nonce = /'nonce-([^']+)'/.exec(policy)?.[1]
  expect(nonce?.length).toBeGreaterThan(30)
  expect(answerTo('/settings').headers.get('Content-Security-Policy')).not.toBe(policy)
  for (const directive of [
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ])
    expect(policy).toContain(directive)
  expect(policy).not.toMatch(/unsafe-eval|script-src[^;]*unsafe-inline|https?:/)
  for (const { headers } of [answerTo('/settings'), answerTo('/vehicles/%00')])
    expect(Object.fromEntries(headers)).toMatchObject({
      'content-security-policy': expect.stringContaining("frame-ancestors 'none'"),
      'cache-control': 'private, no-store',
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'same-origin',
      'cross-origin-opener-policy': 'same-origin',
      'cross-origin-resource-policy': 'same-origin',
    })
})
