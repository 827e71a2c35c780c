/** The words for what is set aside, as they are typed. */
import { expect, it } from 'vitest'
import { readGrades } from '@/app/(people)/settings/grades-schema'
import { gradeOf, gradesOf } from '@/lib/decisions/grades'

function typed(fields: Record<string, string>): FormData {
  const data = new FormData()
  for (const [name, value] of Object.entries({ enough: '80', ...fields })) data.set(name, value)
  return data
}
const errorsOf = (fields: Record<string, string>) => {
  const read = readGrades(typed(fields))
  return read.ok ? [] : read.errors.map(({ field }) => field)
}

it('keeps words that rise, the last without an end, as the shares that decisions read', () => {
  const read = readGrades(typed({ enough: '90', word1: 'mild', share1: '7.5', word3: 'dear', share3: '' }))
  expect(read).toEqual({
    ok: true,
    value: {
      setAsideShare: 0.9,
      grades: [
        { word: 'mild', upTo: 0.075 },
        { word: 'dear', upTo: null },
      ],
    },
  })
  const { grades } = (read as { value: { grades: object[] } }).value
  expect(gradeOf(700, 10_000, gradesOf(grades))).toBe('mild')
  expect(gradeOf(9_000, 10_000, gradesOf(grades))).toBe('dear')
  expect(readGrades(typed({}))).toEqual({ ok: true, value: { setAsideShare: 0.8, grades: null } })
})

it('says at which field something is wrong', () => {
  expect(errorsOf({ enough: '' })).toEqual(['enough'])
  expect(errorsOf({ enough: '100' })).toEqual(['enough'])
  expect(errorsOf({ word1: 'A', share1: '5' })).toEqual(['word1'])
  expect(errorsOf({ share1: '5' })).toEqual(['word1'])
  expect(errorsOf({ word1: 'mild', share1: '-5' })).toEqual(['share1'])
  expect(errorsOf({ word1: 'mild', share1: '5', word2: 'dear', share2: '5' })).toEqual(['share2'])
  expect(errorsOf({ word1: 'mild', share1: '', word2: 'dear', share2: '5' })).toEqual(['share1'])
  expect(errorsOf({ word1: 'mild', share1: '5', word2: 'Mild', share2: '9' })).toEqual(['word2'])
})
