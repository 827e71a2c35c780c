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
