import { expect, test } from 'vitest'
import { LastAsked } from '@/lib/jobs/inner/last-asked'

test('so many are kept, and the one that was not asked for longest goes first', () => {
  const kept = new LastAsked<string | null>(2)
  kept.keep('a', 'first')
  kept.keep('b', null)
  expect(kept.get('a')).toBe('first')
  kept.keep('c', 'third')
  expect([kept.get('a'), kept.get('b'), kept.get('c')]).toEqual(['first', undefined, 'third'])
})

test('an answer of nothing is an answer; a newer one takes its place', () => {
  const kept = new LastAsked<string | null>(2)
  kept.keep('a', null)
  expect(kept.get('a')).toBeNull()
  kept.keep('a', 'known')
  expect(kept.get('a')).toBe('known')
})
