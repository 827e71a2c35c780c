/** What the page on a failure says: what was known, what nobody had looked at, whether the advice was followed. */
import { describe, expect, it } from 'vitest'
import {
  cameTrueWords,
  followedWords,
  knownWords,
  unlookedWords,
} from '@/app/(people)/vehicles/[unit]/said/[repair]/said-words'
import { formatsFor } from '@/app/ui/formats'
import type { Told } from '@/lib/jobs/what-we-said'
import { parseDay } from '@/lib/units/dates'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')
const day = (text: string) => parseDay(text)!
const NOTHING: Told['known'] = { since: null, seen: [], looks: [], unlooked: [] }
const told = (known: Partial<Told['known']>, more: Partial<Told> = {}): Told => ({
  ...{ asOf: day('2026-02-01'), pFail: 0.1, pLow: 0.05, pHigh: 0.2, advice: 'check', saidAt: null },
  ...{ cameLater: 0, followed: null, cameTrue: null, known: { ...NOTHING, ...known } },
  ...more,
})

describe('what was known', () => {
  it('is told as signs and looks, or that there were none', () => {
    expect(knownWords(told({}), formats)).toBe('No sign of it was seen. Nobody had looked.')
    const known: Partial<Told['known']> = {
      since: day('2025-01-02'),
      seen: [
        { label: 'Misfire', position: 2, days: [day('2026-01-03')] },
        { label: 'Soot', position: null, days: [day('2025-12-01'), day('2026-01-05')] },
      ],
      looks: [{ kind: 'scan', count: 3, last: day('2026-01-03') }],
    }
    expect(knownWords(told(known), formats)).toBe(
      'Renewed 2 Jan 2025. Seen: Misfire at 2 (3 Jan 2026), Soot (twice, last 5 Jan 2026). ' +
        'Looks: scan 3 Jan 2026 (and 2 before).',
    )
  })

  it('says what came in only later, and of which kind of lateness it was', () => {
    expect(knownWords(told({}, { cameLater: 1 }), formats)).toMatch(
      /1 more record of that time was written down only later\.$/,
    )
    expect(knownWords(told({}, { cameLater: 2, saidAt: new Date() }), formats)).toMatch(
      /2 more records of that time were brought in only later\.$/,
    )
  })
})

it('what nobody had looked at is told as never, or as how long ago', () => {
  const unlooked = [
    { label: 'Misfire', position: 2, last: null },
    { label: 'Soot', position: null, last: day('2025-06-01') },
  ]
  expect(unlookedWords({ ...NOTHING, unlooked }, true, formats)).toBe(
    'Never: Misfire at 2. Not for a month or more: Soot (last 1 Jun 2025).',
  )
  expect(unlookedWords(NOTHING, true, formats)).toBe('Nothing: every sign of it was looked for, or seen.')
  expect(unlookedWords(NOTHING, false, formats)).toBe('No sign of it is known.')
})

it('an advice is followed by what it asks and by no less', () => {
  const on = day('2026-02-03')
  const words = (advice: Told['advice'], how: 'worked' | 'opened' | 'looked' | 'parked') =>
    followedWords({ advice, followed: { how, on } }, formats)
  expect(words('check', 'looked')).toBe('Followed: looked at 3 Feb 2026.')
  expect(words('book', 'opened')).toBe('Not followed; opened and looked at 3 Feb 2026.')
  expect(words('book', 'worked')).toBe('Followed: worked on 3 Feb 2026.')
  expect(words('stop', 'looked')).toBe('Not followed; looked at 3 Feb 2026.')
  expect(words('stop', 'parked')).toBe('Followed: parked 3 Feb 2026.')
  expect(followedWords({ advice: 'book', followed: { how: 'nothing' } }, formats)).toBe(
    'Not followed, as far as is on record.',
  )
  expect(followedWords({ advice: 'fine', followed: null }, formats)).toBe('Nothing was asked.')
})

it('how often such chances came true is a frequency of so many, with its interval', () => {
  const found = { from: 0.1, to: 0.2, count: 1200, came: 0.125, low: 0.1, high: 0.16 }
  expect(cameTrueWords(found, formats)).toBe('1 in 8 of 1,200 (10% to 16%)')
  expect(cameTrueWords(null, formats)).toBe('not known yet')
})
