import { expect, test } from 'vitest'
import { MEANING_GROUPS } from '@/app/(people)/intake/workbook/words'
import { MEANING_KEYS } from '@/lib/intake/workbook/mapping'

test('everything that a column may be has its words, once', () => {
  const offered = MEANING_GROUPS.flatMap(({ meanings }) => Object.keys(meanings))
  expect(offered.toSorted()).toEqual([...MEANING_KEYS].toSorted())
  const words = MEANING_GROUPS.flatMap(({ meanings }) => Object.values(meanings))
  expect(new Set(words).size).toBe(words.length)
})
