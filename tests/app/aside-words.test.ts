/** What to set aside, in words, and the terms of a cover as they stand in an address. */
import { describe, expect, it } from 'vitest'
import {
  amountsWords,
  classesWords,
  classWords,
  coverWords,
  excludedWords,
  firstWords,
  gradeWords,
  keptTermsWords,
  limitWords,
  ofHundred,
  unknownWords,
} from '@/app/(people)/vehicles/[unit]/set-aside/aside-words'
import { coverAsked } from '@/app/(people)/vehicles/[unit]/set-aside/cover-asked'
import { formatsFor } from '@/app/ui/formats'
import type { VehicleSetAside } from '@/lib/jobs/set-aside'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')
const amounts = { p50: 0, p80: 640, p95: 2300, mean: 400, meanOfUnknownHistory: 100, roundedBy: 2 }
const aside = {
  amounts,
  ...{ enough: { share: 0.8, amount: 640 }, first: null },
  classes: [
    { from: 0, upTo: 0, chance: 0.46 },
    { from: 0, upTo: 3000, chance: 0.536 },
    { from: 3000, upTo: null, chance: 0.004 },
  ],
  choices: [
    { weakPoint: 'belt', name: 'Timing belt', excluded: true },
    { weakPoint: 'pump', name: 'Pump', excluded: false },
  ],
  ...{ value: 8000, shareOfValue: 0.08, grade: 'bearable', hasOwnGrades: true },
} satisfies Partial<VehicleSetAside>
const told = (more: Partial<VehicleSetAside> = {}) => ({ ...aside, ...more }) as VehicleSetAside

describe('what to set aside', () => {
  it('is told as what is enough in so many covers', () => {
    expect(amountsWords(amounts, formats)).toEqual([
      'In half of such covers nothing is to be paid.',
      'In 8 of 10 such covers the cost stays within €640.',
      'In 19 of 20 such covers the cost stays within €2,300.',
    ])
  })

  it('is found to cost nothing so often, and to stay within two amounts', () => {
    expect(classesWords(told(), formats)).toBe(
      'Of 100 such covers, 46 cost nothing, 80 stay within €640 and 95 within €2,300; the others cost more.',
    )
    const mild = { ...amounts, p80: 0 }
    expect(classesWords(told({ amounts: mild }), formats)).toBe(
      'Of 100 such covers, 46 cost nothing, 95 stay within €2,300; the others cost more.',
    )
    const dear = [{ from: 0, upTo: 0, chance: 0.004 }]
    expect(classesWords(told({ classes: dear }), formats)).toMatch(/^Of 100 such covers, 80 stay within €640/)
    const none = { ...mild, p95: 0 }
    const classes = [{ from: 0, upTo: 0, chance: 0.9991 }]
    expect(classesWords(told({ amounts: none, classes }), formats)).toBe(
      'Of 100 such covers, over 99 cost nothing.',
    )
  })

  it('is told by class, without a chance that is rounded to nothing', () => {
    expect(aside.classes.map((each) => classWords(each, formats))).toEqual([
      'nothing',
      'up to €3,000',
      'more than €3,000',
    ])
    expect([0, 0.004, 0.5, 0.997, 1].map((chance) => ofHundred(chance, formats))).toEqual([
      '0',
      'under 1',
      '50',
      'over 99',
      '100',
    ])
  })

  it('says which part is due to history that nobody knows', () => {
    expect(unknownWords(told(), formats)).toMatch(/^Of the average, €100 \(25%\) is for parts/)
    expect(unknownWords(told({ amounts: { ...amounts, meanOfUnknownHistory: 0 } }), formats)).toMatch(/none/)
    expect(unknownWords(told({ amounts: { ...amounts, mean: 0 } }), formats)).toBe('')
  })

  it('says the share of the value in the own words, or what is missing for that', () => {
    const share = '€640, enough in 8 of 10 cases, is 8% of its value (€8,000)'
    expect(gradeWords(told(), formats)).toBe(`${share}: “bearable”, in your own words.`)
    expect(gradeWords(told({ grade: null }), formats)).toBe(`${share}; none of your own words goes so far.`)
    expect(gradeWords(told({ grade: null, hasOwnGrades: false }), formats)).toMatch(
      /can be set under Settings\.$/,
    )
    const free = { enough: { share: 0.8, amount: 0 }, shareOfValue: 0, grade: 'fine' }
    expect(gradeWords(told(free), formats)).toBe(
      'In 8 of 10 cases none of its value (€8,000) is needed: “fine”, in your own words.',
    )
    expect(gradeWords(told({ value: null, shareOfValue: null, grade: null }), formats)).toMatch(
      /^What it is worth is not on record/,
    )
  })

  it('counts the job without which it must not be driven, and says so first', () => {
    expect(firstWords(told(), formats)).toEqual([])
    const first = { jobs: [{ name: 'Pump', place: null, position: 1, cost: 300 }], cost: 300 }
    const [job, sum] = firstWords(told({ first }), formats)
    expect(job).toMatch(
      /^Before anything else: pump\. That job costs about €300, and nothing is covered before/,
    )
    expect(sum).toMatch(/8 of 10 such covers stay within €940\.$/)
    expect(gradeWords(told({ first, shareOfValue: 0.1175 }), formats)).toMatch(
      /^€940, enough in 8 of 10 cases, the job before it counted, is 12% of its value/,
    )
  })

  it('says which terms are kept, by whom, and what holds of them after the sale', () => {
    const in24 = formatsFor({ locale: 'en-GB', currency: 'EUR', timeZone: 'UTC' }, 'km')
    const none = { terms: null, coverOf: 'usual' as const }
    expect(keptTermsWords(told(none), in24)).toMatch(/^No terms are kept/)
    const terms = {
      ...{ id: 'x', days: 90, km: 5_000, excluded: ['belt'], claimLimit: 400 },
      ...{ madeAt: new Date('2026-03-01T12:00:00Z'), madeByName: 'Ann' },
    }
    expect(keptTermsWords(told({ terms, coverOf: 'terms' }), in24)).toMatch(
      /^Kept with it: 90 days or 5,000 km, .*; left out: timing belt; at most €400 .* Kept by Ann on 1 Mar 2026/,
    )
    expect(keptTermsWords(told({ terms, coverOf: 'vehicle' }), in24)).toMatch(
      /ends as the sale says; the rest holds\.$/,
    )
  })

  it('says what is left out, how long it holds and what is paid at most', () => {
    expect(excludedWords(told())).toBe('Left out: timing belt')
    expect(excludedWords({ choices: aside.choices.map((each) => ({ ...each, excluded: false })) })).toBe(
      'No weak point is left out',
    )
    expect(excludedWords({ choices: aside.choices.map((each) => ({ ...each, excluded: true })) })).toBe(
      'Every weak point is left out',
    )
    expect(coverWords({ days: 365, km: 15_000 }, formats)).toBe('365 days or 15,000 km, whichever come first')
    expect(coverWords({ days: 1, km: null }, formats)).toBe('a day, however far it is driven')
    expect(limitWords(null, formats)).toBe('a failure is paid whole')
    expect(limitWords(800, formats)).toBe('at most €800 is paid for one failure')
  })
})

describe('the cover that is asked', () => {
  it('is none where the address says nothing', () => {
    expect(coverAsked({}, 'km')).toEqual({ cover: null, excluded: null, claimLimit: null, unread: [] })
  })

  it('is read in the unit in which it was typed', () => {
    const typed = { days: '180', far: '10,000', limit: '1.500', without: ['belt', 'pump'] }
    expect(coverAsked(typed, 'km')).toEqual({
      cover: { days: 180, km: 10_000 },
      excluded: ['belt', 'pump'],
      claimLimit: 1500,
      unread: [],
    })
    expect(coverAsked(typed, 'mi').cover?.km).toBeCloseTo(16_093.44, 6)
    expect(coverAsked({ days: '90', far: '', without: 'belt' }, 'km')).toMatchObject({
      cover: { days: 90, km: null },
      excluded: ['belt'],
    })
  })

  it('says what of it cannot be read', () => {
    expect(coverAsked({ days: 'soon', far: '0', limit: '-1' }, 'km')).toEqual({
      cover: null,
      excluded: [],
      claimLimit: null,
      unread: [
        '“soon” is not a number of days from 1 to 3650.',
        '“0” is not a distance.',
        '“-1” is not an amount, so there is no limit.',
      ],
    })
    expect(coverAsked({ days: '', far: '5000' }, 'km').unread).toEqual([
      'A cover ends after some days: say how many.',
    ])
  })
})
