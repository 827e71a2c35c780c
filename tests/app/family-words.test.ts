import { describe, expect, test } from 'vitest'
import { clockAmount } from '@/app/(people)/families/amounts'
import { learnedSentence, livesSentence, versionSentence } from '@/app/(people)/families/learned-sentences'
import {
  curveSentence,
  damageSentence,
  dutySentence,
  lifeFactorWords,
  lifeSentence,
  placesSentence,
} from '@/app/(people)/families/sentences'
import { formatsFor } from '@/app/ui/formats'
import type { Family } from '@/lib/records/library'
import { exampleLibrary } from '../records/example-library'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')
const family = exampleLibrary().families[0] as Family
const injector = family.weakPoints[0]!

/** Spaces that do not break are for the eye. */
const plain = (text: string) => text.replaceAll('\u00a0', ' ')

describe('amounts of what a part ages by', () => {
  test.each([
    [90_000, 'distance', '90,000 km'],
    [2500, 'hours', '2,500 hours'],
    [1, 'hours', '1 hour'],
    [14, 'time', '14 days'],
    [244, 'time', '8 months'],
    [1826, 'time', '5 years'],
  ] as const)('%s by %s', (amount, clock, words) => {
    expect(plain(clockAmount(amount, clock, formats))).toBe(words)
  })

  test('distances are told in the unit that was chosen', () => {
    const inMiles = formatsFor({ locale: 'en-GB', currency: null }, 'mi')
    expect(plain(clockAmount(96_561, 'distance', inMiles))).toBe('60,000 mi')
  })
})

describe('what a statement says', () => {
  test('in parts of ten', () => {
    const words = plain(lifeSentence(injector, formats))
    expect(words).toBe(
      'Of 10 such parts, 1 has begun to go by 90,000 km and 5 by 180,000 km. ' +
        'From the first sign to the breakdown, half of them run for 8,000 km or more.',
    )
    expect(lifeSentence({ ...injector, warning: 0 }, formats)).toContain('breaks down without warning')
  })

  test('the curve says its chance at one age, its band and what that comes from', () => {
    const atHalf = { age: 180_000, pStarted: 0.5, pFail: 0.4, pLow: 0.25, pHigh: 0.6 }
    const words = plain(curveSentence(atHalf, injector, formats))
    expect(words).toContain(
      'As stated: by 180,000 km, about 1 in 3 (between 1 in 4 and 6 in 10) of the new ones have failed',
    )
    expect(words).toContain('as wide as experience leaves it')
  })

  test('what changes a life, and where it is', () => {
    expect(lifeFactorWords(1, formats)).toBe('lasts as long')
    expect(lifeFactorWords(1.5, formats)).toBe('lasts 1.5 times as long')
    expect(dutySentence({ short: 1, mixed: 1, long: 1 }, formats)).toBe('')
    expect(dutySentence(injector.duty, formats)).toBe(
      'Ages 1.2 times as fast on short trips, 0.9 times as fast on long runs.',
    )
    expect(placesSentence(injector, family, formats)).toBe('one a cylinder, inlet side')
    expect(placesSentence({ ...injector, positions: 2, zone: null }, family, formats)).toBe('2 of them')
  })

  test('what it damages', () => {
    expect(damageSentence('Cam cover', 'cover-seep', family, formats)).toBe(
      'While the cam cover goes: Vacuum pump gasket (ages 3 times as fast).',
    )
    expect(damageSentence('Fuel injector', 'injector', family, formats)).toBe('')
  })
})

describe('what was learned says', () => {
  const half = { value: 151_990, low: 148_012, high: 156_400 }
  const lives = { failed: 59, developing: 19, sound: 3, running: 1214, leftOut: 12 }

  test('when half have begun to go, and how long they then run', () => {
    const warning = { value: 9_000, low: 7_000, high: 12_000 }
    expect(plain(learnedSentence({ lives, half, warning, factors: [] }, 'distance', formats))).toBe(
      'Of 10 such parts, 5 have begun to go by 152,000 km (between 148,000 km and 156,000 km). ' +
        'From there to the breakdown, half of them run for 9,000 km (between 7,000 km and 12,000 km) or more.',
    )
    expect(plain(learnedSentence({ lives, half, warning: null, factors: [] }, 'distance', formats))).toMatch(
      /156,000 km\)\.$/,
    )
  })

  test('what it rests on', () => {
    expect(livesSentence(lives, formats)).toBe(
      'Of the parts that it rests on, 59 failed, 19 were found going, 3 were found sound, ' +
        '1,214 run on, or were renewed with nothing written down. 12 of unknown beginning were left out.',
    )
  })

  test('how much longer a version lasts, and how likely that is', () => {
    const factor = { value: 1.42, low: 1.2, high: 1.7 }
    const said = versionSentence({ of: 'revision', key: 'mk2', factor, longer: 0.98 }, family, formats)
    expect(plain(said)).toBe(
      'Version mk2 lasts 1.4 times (between 1.2 times and 1.7 times) as long; the chance that it lasts longer is 19 in 20.',
    )
  })
})
