import { describe, expect, test } from 'vitest'
import {
  aheadSentence,
  missingSentence,
  missSentence,
  onsetSentence,
  pointSentence,
  warningSentence,
} from '@/app/(people)/families/new/starter-words'
import { formatsFor } from '@/app/ui/formats'
import type { Advice } from '@/lib/decisions/advice'
import type { WeakPointDraft } from '@/lib/intake/family-draft'
import { WARNING_TAKEN } from '@/lib/intake/starter-form'
import type { DraftOutlook, DraftScore } from '@/lib/jobs/outlook-of-draft'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')
const plain = (text: string | null) => text?.replaceAll('\u00a0', ' ')
const PUMP: WeakPointDraft = {
  key: 'pump',
  component: 'Pump',
  onset: { p10: 80_000, p50: 102_432 },
  warning: 3000,
  confidence: 'hunch',
}

describe('what was understood is said back', () => {
  test('by when 10, 50 and 90 of 100 have begun, in the unit that is asked in', () => {
    expect(plain(onsetSentence(PUMP.onset, formats, 'km'))).toBe(
      'Of 100: 10 by 80,000 km, 50 by 102,000 km, 90 by 120,000 km.',
    )
    const miles = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'mi')
    expect(plain(onsetSentence({ p10: 80_467, p50: 160_934 }, miles, 'mi'))).toMatch(
      /^Of 100: 10 by 50,000 mi, 50 by 100,000 mi/,
    )
  })

  test('answers that lie on no one curve', () => {
    expect(missSentence(1, formats)).toBe('')
    expect(missSentence(13.2, formats)).toMatch(/misses the farthest by 13 of 100/)
  })

  test('how long it runs, and that nobody knows', () => {
    expect(plain(warningSentence(PUMP, formats))).toBe(
      'From the first sign to the breakdown, half of them run for 3,000 km or more.',
    )
    expect(warningSentence({ ...PUMP, warning: 0 }, formats)).toBe('It breaks down without warning.')
    const taken = { ...PUMP, warning: 5100, grounds: `Own workshop. ${WARNING_TAKEN}` }
    expect(plain(warningSentence(taken, formats))).toMatch(
      /is not known: .* run for 5,100 km or more, a twentieth/,
    )
  })

  test('what ages by hours, from the long form, is said in hours', () => {
    const hours: WeakPointDraft = { ...PUMP, clock: 'hours', onset: { p10: 1000, p50: 2000 } }
    expect(plain(pointSentence(hours, formats, 'km'))).toMatch(/by 1,000 hours and 5 by 2,000 hours/)
  })

  test('what was left out', () => {
    expect(missingSentence(PUMP, false)).toMatch(/No costs stated.*Nothing shows it.*No cautions stated/)
    expect(missingSentence({ ...PUMP, cost: { hours: 1 }, cautions: ['Hot.'] }, true)).toBeNull()
  })
})

describe('what follows', () => {
  const outlook = (...advice: Advice[]): DraftOutlook => ({
    asOf: 20_000,
    horizonDays: 90,
    scores: advice.map((each, i) => ({ unit: `V${i}`, advice: each, leading: {} as DraftScore['leading'] })),
  })

  test('how many would be looked at first, and as what', () => {
    expect(aheadSentence(outlook('stop', 'check', 'check', 'fine'), 4, formats)).toBe(
      '4 vehicles have this engine. 3 of them would be looked at first (1 do not drive, 2 have a look).',
    )
  })

  test('that none would be', () => {
    expect(aheadSentence(outlook('watch'), 1, formats)).toMatch(
      /^1 vehicle has this engine\. None of them would have to be looked at before the others/,
    )
  })
})
