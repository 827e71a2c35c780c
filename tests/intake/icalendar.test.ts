/** Calendar files, read back by a reader of calendars that is not ours. */
import fc from 'fast-check'
import ICAL from 'ical.js'
import { describe, expect, it } from 'vitest'
import { type CalendarEvent, calendarText } from '@/lib/intake/icalendar'
import { instantIn, visitEvents } from '@/lib/intake/plan-calendar'
import { parseDay } from '@/lib/units/dates'

const terms = { name: 'Plan', organisation: 'org-1', writtenAt: new Date('2026-06-30T12:34:56Z') }
const monday = parseDay('2026-07-06')!
const event = (more: Partial<CalendarEvent> = {}): CalendarEvent => ({
  key: 'visit 1',
  when: { from: monday, to: monday + 4 },
  summary: 'V-001',
  ...more,
})

const read = (text: string) => {
  const calendar = new ICAL.Component(ICAL.parse(text))
  return {
    calendar,
    events: calendar.getAllSubcomponents('vevent').map((each) => new ICAL.Event(each)),
  }
}

describe('a calendar file', () => {
  it('is read by others as it was meant: days, text, when it was written', () => {
    const said = 'Fuel injector 3; rail, "warm"\nLet it bleed down \\ first.'
    const { calendar, events } = read(calendarText([event({ description: said, location: 'Bay 1' })], terms))
    expect(calendar.getFirstPropertyValue('version')).toBe('2.0')
    expect(events).toHaveLength(1)
    const [first] = events
    expect(first).toMatchObject({ summary: 'V-001', description: said, location: 'Bay 1' })
    expect(first!.startDate).toMatchObject({ isDate: true, year: 2026, month: 7, day: 6 })
    // The end is not part of it: Friday the 10th is the last day.
    expect(first!.endDate).toMatchObject({ isDate: true, year: 2026, month: 7, day: 11 })
    const stamp = first!.component.getFirstPropertyValue('dtstamp') as ICAL.Time
    expect(stamp.toJSDate()).toEqual(terms.writtenAt)
  })

  it('keeps any text, in lines of at most 75 octets that end with CR and LF', () => {
    const texts = fc.string({ unit: 'grapheme', maxLength: 200 })
    fc.assert(
      fc.property(texts, (text) => {
        const written = calendarText([event({ summary: `x${text}` })], terms)
        expect(written.endsWith('\r\n')).toBe(true)
        const lines = written.split('\r\n')
        for (const line of lines) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75)
        expect(written.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/)
        const kept = `x${text}`.replaceAll(/\r\n?/g, '\n').replaceAll(/[^\P{Cc}\n\t]/gu, ' ')
        expect(read(written).events[0]!.summary).toBe(kept)
      }),
      { numRuns: 300 },
    )
  })

  it('says an hour in the organisation’s zone as an instant, before and after clocks change', () => {
    const at = (day: string, hour: number) => instantIn('Europe/Berlin', parseDay(day)!, hour).toISOString()
    expect(at('2026-07-06', 8)).toBe('2026-07-06T06:00:00.000Z')
    expect(at('2026-01-05', 8)).toBe('2026-01-05T07:00:00.000Z')
    expect(at('2026-10-25', 1)).toBe('2026-10-24T23:00:00.000Z')
    // 2:30 comes twice on 25 October, and not at all on 29 March.
    expect(at('2026-10-25', 2.5)).toBe('2026-10-25T00:30:00.000Z')
    expect(at('2026-03-29', 2.5)).toBe('2026-03-29T01:30:00.000Z')
    expect(instantIn('America/St_Johns', monday, 8).toISOString()).toBe('2026-07-06T10:30:00.000Z')
    const [start, end] = [8, 11.5].map((hour) => instantIn('Europe/Berlin', monday, hour))
    const [timed] = read(calendarText([event({ when: { start: start!, end: end! } })], terms)).events
    expect(timed!.startDate.toJSDate()).toEqual(start)
    expect(timed!.endDate.toJSDate()).toEqual(end)
  })
})

describe('the visits of a plan', () => {
  const visit = {
    unit: 'V-001',
    week: 1,
    bay: 0,
    hours: 3,
    jobs: ['V-001 injector 3', 'V-001 pump 1'],
    gain: 120,
  }
  const words = {
    summary: ({ unit }: { unit: string }) => unit,
    description: ({ hours }: { hours: number }) => `${hours} h`,
    bay: (bay: number) => `Bay ${bay + 1}`,
  }
  const uidsOf = (visits: (typeof visit)[], organisation = 'org-1') => {
    const events = visitEvents(visits, { firstDay: monday, words })
    return read(calendarText(events, { ...terms, organisation })).events.map(({ uid }) => uid)
  }

  it('are events of their week, the same one when it moves, another for other jobs and elsewhere', () => {
    const [one] = read(calendarText(visitEvents([visit], { firstDay: monday, words }), terms)).events
    expect(one!.startDate).toMatchObject({ year: 2026, month: 7, day: 13 })
    expect(one!.location).toBe('Bay 1')
    const moved = { ...visit, week: 3, bay: 1, jobs: [...visit.jobs].reverse() }
    expect(uidsOf([moved])).toEqual(uidsOf([visit]))
    expect(uidsOf([{ ...visit, jobs: ['V-001 pump 1'] }])).not.toEqual(uidsOf([visit]))
    expect(uidsOf([visit], 'org-2')).not.toEqual(uidsOf([visit]))
  })
})
