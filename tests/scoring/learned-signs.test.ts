import { expect, test } from 'vitest'
import { farthestMoved, learnedSigns } from '@/lib/scoring/learned-signs'
import { exampleLibrary } from '../records/example-library'

const family = exampleLibrary().families[0]!
const rates = (leak: number, detect: number) =>
  new Map([['misfire', { leak, detect: new Map([['injector', detect]]) }]])

test('nothing is told of signs of which nothing was learned', () => {
  expect(learnedSigns(family, new Map())).toEqual([])
})

test('a rate that stayed as stated, to the last digit, was not learned', () => {
  expect(learnedSigns(family, rates(0.002, 0.35))).toEqual([])
  expect(learnedSigns(family, rates(0.003, 0.35))).toEqual([
    { sign: 'misfire', weakPoint: null, stated: 0.002, learned: 0.003 },
  ])
})

test('far is judged by the odds: a rare sign that became three times as frequent moved farther than a common one', () => {
  const learned = learnedSigns(family, rates(0.006, 0.5))
  expect(learned.map(({ weakPoint }) => weakPoint)).toEqual(['injector', null])
  expect(farthestMoved(learned).map(({ weakPoint }) => weakPoint)).toEqual([null, 'injector'])
})

test('a rate that is stated as never is as near as any other', () => {
  const learned = learnedSigns(
    { ...family, signs: family.signs.map((sign) => ({ ...sign, leak: 0 })) },
    rates(0.0012, 0.9),
  )
  expect(farthestMoved(learned).map(({ weakPoint }) => weakPoint)).toEqual(['injector', null])
})
