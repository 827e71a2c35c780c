import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { learnedSignsSentence, looksOf } from '@/app/(people)/families/sign-rate-words'
import { formatsFor } from '@/app/ui/formats'
import { learnedSigns } from '@/lib/scoring/learned-signs'
import { exampleLibrary } from '../records/example-library'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')
const family = exampleLibrary().families[0]!

describe('rates as counts of looks', () => {
  test.each([
    [
      [0.8, 0.5873],
      ['8 of 10', '6 of 10'],
    ],
    [[0.65], ['65 of 100']],
    [
      [0.8, 0.65],
      ['80 of 100', '65 of 100'],
    ],
    [
      [0.005, 0.0124],
      ['5 of 1,000', '12 of 1,000'],
    ],
    [[0.97], ['97 of 100']],
    [[0], ['0 of 10']],
    [[1], ['10 of 10']],
    [[0.00002], ['under 1 of 10,000']],
    [[0.99999], ['over 9,999 of 10,000']],
  ])('%j is told as %j', (rates, words) => {
    expect(looksOf(rates, formats)).toEqual(words)
  })

  test('whatever the rates, no figure claims never or always of what may be otherwise, and all are out of the same', () => {
    const rate = fc.double({ min: 1e-9, max: 1 - 1e-9, noNaN: true })
    fc.assert(
      fc.property(rate, rate, (a, b) => {
        const said = looksOf([a, b], formats).map((words) => words.replaceAll(',', '').split(' of '))
        expect(new Set(said.map(([, looks]) => looks)).size).toBe(1)
        for (const [count, looks] of said) expect([`0`, looks]).not.toContain(count)
      }),
    )
  })
})

describe('what was learned in general', () => {
  const said = (leak: number, detect: number) => {
    const rates = new Map([['misfire', { leak, detect: new Map([['injector', detect]]) }]])
    return learnedSignsSentence(family, learnedSigns(family, rates), formats)
  }

  test('nothing: the statement stands, and what would teach it', () => {
    expect(said(0.002, 0.35)).toMatch(
      /^Nothing is learned of the signs yet: scores rest on the figures as stated/,
    )
  })

  test('which way the figures moved, and which moved farthest', () => {
    expect(said(0.004, 0.3)).toBe(
      'Where your own looks speak of a figure, what they taught stands below it, and scores rest on that. ' +
        'When a part is going, signs are seen more often than stated in 0 of 1 learned figures, less often in 1. ' +
        'Without cause, signs show more often than stated in 1 of 1 learned figures. ' +
        'Farthest from its statement is “Misfire on one cylinder” without cause; stated 2 of 1,000, learned 4 of 1,000.',
    )
    expect(said(0.002, 0.7)).toContain(
      '“Misfire on one cylinder” when this part is going: Fuel injector; stated 35 of 100, learned 70 of 100.',
    )
    expect(said(0.002, 0.7)).not.toContain('Without cause')
    expect(said(0.002, 0.351)).toContain('in 0 of 1 learned figures, about as often in 1.')
  })
})
