/** What the proxy answers of itself, before any page is asked. */
import { NextRequest } from 'next/server'
import { expect, test } from 'vitest'
import { proxy } from '@/proxy'

const answerTo = (address: string) => proxy(new NextRequest(`http://gudgeon.invalid${address}`))

test('an address with a sign in it that no text of the store can have is told from one of ours', () => {
  for (const address of ['/vehicles/%00', '/?q=V%00', '/vehicles/V-1/said/%00'])
    expect(answerTo(address).status).toBe(400)
  for (const address of ['/vehicles/V-1', '/vehicles/%2500', '/?q=100%25%20000'])
    expect(answerTo(address).status).toBe(200)
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
