import { describe, expect, test } from 'vitest'
import { clockAmount } from '@/app/(people)/families/amounts'
import {
  countNote,
  factorInBand,
  learnedSentence,
  livesSentence,
  versionName,
  versionSentence,
} from '@/app/(people)/families/learned-sentences'
import { countedLine, onLine } from '@/app/(people)/families/life-lines'
import {
  curveSentence,
  damageSentence,
  dutySentence,
  learnedCurveSentence,
  lifeFactorWords,
  lifeSentence,
  placesSentence,
} from '@/app/(people)/families/sentences'
import { formatsFor } from '@/app/ui/formats'
import type { Family } from '@/lib/records/library'
import type { NewPartLife } from '@/lib/scoring/stated-life'
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
    expect(plain(factorInBand({ value: 1.42, low: 1.2, high: 1.7 }, formats))).toBe(
      '1.4 times (between 1.2 and 1.7)',
    )
    expect(versionName({ of: 'variant', key: 'early' }, family, injector)).toBe('before 2019')
    expect(versionName({ of: 'revision', key: 'mk2' }, family, injector)).toBe('mk2')
    const said = (longer: number) => versionSentence({ of: 'revision', longer }, 'mk2', formats)
    expect(said(0.98)).toBe('Version mk2 lasts longer than the original: the chance of that is 19 in 20.')
    expect(said(0.05)).toMatch(/^Version mk2 lasts less long than the original/)
    expect(said(0.4)).toMatch(/^Whether version mk2 lasts longer than the original cannot be told yet/)
  })

  test('what was counted, and how far to trust it', () => {
    const ends = {
      failed: 20,
      developing: 15,
      sound: 4,
      renewed: 0,
      running: 200,
      unknownStart: 0,
      beforeWatch: 0,
    }
    const steps = { from: 0, until: 90_000, lives: 210, gone: 33, shares: [] }
    const note = (change: object) => countNote({ ends: { ...ends, ...change }, steps, byFactor: [] }, formats)
    expect(note({})).toMatch(/count 210 original parts, of which 33 failed/)
    expect(note({})).not.toContain('nothing written down')
    expect(note({ renewed: 7 })).toContain('The 7 with nothing written down')
    expect(countNote({ ends, steps: null, byFactor: [] }, formats)).toMatch(/^Too few/)
  })
})

describe('the learned curve beside the stated one and the count', () => {
  const life = (failed: number): NewPartLife => {
    const at = (age: number, share: number) => ({
      age,
      pStarted: Math.min(share * 1.5, 1),
      pFail: share,
      pLow: share * 0.8,
      pHigh: Math.min(share * 1.2, 1),
    })
    return {
      curve: [at(0, 0), at(100_000, failed), at(200_000, Math.min(2 * failed, 1))],
      atHalf: at(100_000, failed),
    }
  }
  const said = (seen: number, until = 150_000) =>
    plain(
      learnedCurveSentence(
        {
          stated: life(0.5),
          learned: life(0.3),
          counted: countedLine(observed([[60_000, 1 - seen, 0.02]], until), life(0.3)),
        },
        'distance',
        formats,
      ),
    )
  const observed = (shares: [number, number, number][], until: number, from = 0) => ({
    ends: { failed: 9, developing: 0, sound: 0, renewed: 0, running: 9, unknownStart: 0, beforeWatch: 0 },
    steps: { from, until, lives: 18, gone: 9, shares },
    byFactor: [],
  })

  test('says whether the count lies where it belongs', () => {
    expect(said(0.4)).toMatch(/^Learned: by 100,000 km, about 1 in 3 .* stated is 1 in 2\./)
    expect(said(0.4)).toMatch(/by then: that fits what was learned\.$/)
    expect(said(0.1)).toMatch(/fewer than are learned to have failed\.$/)
    expect(said(0.8)).toMatch(/more than are learned to have begun to go\.$/)
    expect(said(0.25, 80_000)).toContain('by 80,000 km')
  })

  test('says nothing of a count where there is none', () => {
    const words = learnedCurveSentence(
      { stated: life(0.5), learned: life(0.3), counted: [] },
      'distance',
      formats,
    )
    expect(words).not.toContain('Counted')
  })

  test('a count that begins late begins on the learned line', () => {
    const line = countedLine(observed([[120_000, 0.5, 0.1]], 150_000, 50_000), life(0.3))
    expect(line[0]).toEqual({ at: 50_000, value: 0.15, error: 0 })
    expect(onLine(line, 130_000)?.value).toBeCloseTo(1 - 0.85 * 0.5, 12)
    expect(onLine(line, 130_000)?.error).toBeCloseTo(0.085, 12)
    expect(onLine(line, 40_000)).toBeNull()
    expect(onLine(line, 160_000)).toBeNull()
  })
})
