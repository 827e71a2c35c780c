import { expect, test } from 'vitest'
import { parsedLibrary } from '@/lib/records/parsed-library'
import { statedLife } from '@/lib/scoring/stated-life'
import { EXAMPLE_LIBRARY } from '../store/example-scores'

const CONTENT = JSON.stringify(EXAMPLE_LIBRARY)
const NOT_VALID = '{"families": 1}'

function familyIn(content: string) {
  const parsed = parsedLibrary(content)
  if (!parsed.ok) throw new Error(parsed.errors[0]?.message)
  return parsed.library.families[0]!
}
const lifeIn = (content: string) => statedLife(familyIn(content), familyIn(content).weakPoints[0]!)

test('a library and its lives are worked out once, and anew when a word of it changes', () => {
  const later = CONTENT.replace(/"p50":\d+/, '"p50":999000')
  expect(later).not.toBe(CONTENT)
  expect(lifeIn(CONTENT)).toBe(lifeIn(CONTENT))
  expect(lifeIn(later).atHalf.age).toBe(999_000)
  expect(lifeIn(CONTENT).atHalf.age).not.toBe(999_000)
})

test('what is not valid stays so', () => {
  expect(parsedLibrary(NOT_VALID).ok).toBe(false)
  expect(parsedLibrary(NOT_VALID)).toBe(parsedLibrary(NOT_VALID))
})

test('of many libraries the one not asked for longest is let go', () => {
  const first = parsedLibrary(CONTENT)
  for (let n = 0; n < 7; n++) parsedLibrary(`${CONTENT}${' '.repeat(n + 1)}`)
  expect(parsedLibrary(CONTENT)).toBe(first)
  for (let n = 0; n < 8; n++) parsedLibrary(`${CONTENT}${' '.repeat(n + 1)}`)
  expect(parsedLibrary(CONTENT)).not.toBe(first)
})
