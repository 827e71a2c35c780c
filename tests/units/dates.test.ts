import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { dayIn, formatDay, parseDay, spokenDay } from '@/lib/units/dates'
import { runs } from '../runs'

describe('a date', () => {
  it('is read back as it was written, from the year 1000 to 9999', () => {
    const [first, last] = [parseDay('1000-01-01') ?? 0, parseDay('9999-12-31') ?? 0]
    fc.assert(
      fc.property(fc.integer({ min: first, max: last }), (day) => {
        expect(parseDay(formatDay(day))).toBe(day)
      }),
      { numRuns: runs(500) },
    )
  })

  it.each(['2025-02-29', '1900-02-29', '2026-04-31', '2026-13-01', '2026-00-10', '2026-01-00', '0050-01-01'])(
    'does not exist: %s',
    (text) => {
      expect(parseDay(text)).toBeNull()
    },
  )

  it.each(['26-01-01', '2026-1-1', '2026-01-01T00:00', ' 2026-01-01', '01.02.2026', ''])(
    'is not written so: %j',
    (text) => {
      expect(parseDay(text)).toBeNull()
    },
  )

  it('counts leap days (2000 was a leap year, 2100 is none)', () => {
    expect(parseDay('2000-02-29')).not.toBeNull()
    expect(parseDay('2100-02-29')).toBeNull()
    expect((parseDay('2024-03-01') ?? 0) - (parseDay('2024-02-28') ?? 0)).toBe(2)
  })

  it('is spoken with the name of its month', () => {
    expect(spokenDay(parseDay('2026-11-24') ?? 0)).toBe('24 Nov 2026')
  })

  it('depends on the time zone in which an instant is asked', () => {
    const instant = new Date('2026-06-30T23:30:00Z')
    expect(formatDay(dayIn('UTC', instant))).toBe('2026-06-30')
    expect(formatDay(dayIn('Asia/Kolkata', instant))).toBe('2026-07-01')
  })
})
