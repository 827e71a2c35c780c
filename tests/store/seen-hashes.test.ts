import crypto from 'node:crypto'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { SeenHashes } from '@/lib/store/inner/seen-hashes'

const hashOf = (n: number) => crypto.createHash('sha256').update(String(n)).digest('hex')

test('says of each hash what a set of texts would say', () => {
  fc.assert(
    fc.property(fc.array(fc.nat(3000), { maxLength: 6000 }), (numbers) => {
      const [seen, set] = [new SeenHashes(), new Set<string>()]
      for (const hash of numbers.map(hashOf)) {
        expect(seen.add(hash)).toBe(!set.has(hash))
        set.add(hash)
      }
    }),
    { numRuns: 50 },
  )
})

test('hashes that lie at the same place, or of zeros alone, are told apart', () => {
  const seen = new SeenHashes()
  const alike = ['0'.repeat(64), `${'0'.repeat(31)}1`, `${'0'.repeat(30)}10`, 'f'.repeat(64)]
  expect(alike.map((hash) => seen.add(hash))).toEqual([true, true, true, true])
  expect(alike.map((hash) => seen.add(hash))).toEqual([false, false, false, false])
})
