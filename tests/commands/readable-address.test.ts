import { expect, test } from 'vitest'
import { readableAddress } from '@/lib/commands/inner/readable-address.mjs'

test('an address that can be read is itself, whatever it asks', () => {
  for (const address of ['/', '/vehicles/B%2D2', '/vehicles/%E0%A4%85?q=%', '/api/v1/scores?unit=%E0%A4%A'])
    expect(readableAddress(address)).toBe(address)
})

test('one that cannot leads to an answer for people or for programs', () => {
  for (const path of ['/%', '/vehicles/%E0%A4%A', '/families/%FF?q=1', '/_next/%zz', '/apis/%'])
    expect(readableAddress(path)).toBe('/broken-address')
  for (const path of ['/api/%', '/api/v1/vehicles/%E0%A4%A/records?limit=1'])
    expect(readableAddress(path)).toBe('/api/broken-address')
})
