import { expect, test } from 'vitest'
import { furtherWords } from '@/app/(people)/intake/[id]/of-workbook'
import { MEANING_GROUPS, remarkLines } from '@/app/(people)/intake/workbook/words'
import { MEANING_KEYS } from '@/lib/intake/workbook/mapping'

test('everything that a column may be has its words, once', () => {
  const offered = MEANING_GROUPS.flatMap(({ meanings }) => Object.keys(meanings))
  expect(offered.toSorted()).toEqual([...MEANING_KEYS].toSorted())
  const words = MEANING_GROUPS.flatMap(({ meanings }) => Object.values(meanings))
  expect(new Set(words).size).toBe(words.length)
})

test('lines that are no rows of the sheet are told with whose they are', () => {
  const file = 'book, Fleet, repairs.csv'
  expect(furtherWords({ file, from: 13, lines: 1, rows: [6] }, String)).toBe(
    'Line 13 of book, Fleet, repairs.csv is a further record of row 6.',
  )
  expect(furtherWords({ file, from: 13, lines: 40, rows: [6, 6, 9] }, String)).toBe(
    'Lines 13 to 52 of book, Fleet, repairs.csv are further records of rows 6, 6, 9 and so on.',
  )
})

test('remarks are told as they are written', () => {
  expect(remarkLines({ remarks: [7, 9], remarked: ['see below'] })).toEqual([
    'Row 7 is a remark, and not read: “see below”',
  ])
  expect(remarkLines({})).toEqual([])
})
