/** The list of next visits: what an address asks for, the order, the line where the hours run out, its words and its file. */
import { expect, test } from 'vitest'
import { csvText } from '@/app/(people)/twins/twin'
import { lineWords, rankedWords } from '@/app/(people)/visits/visit-words'
import { sortedBy, visitsAsked, visitsParameters } from '@/app/(people)/visits/visits-asked'
import { visitsTold } from '@/app/(people)/visits/visits-told'
import { visitsView } from '@/app/(people)/visits/visits-view'
import { formatsFor } from '@/app/ui/formats'
import type { VisitOf } from '@/lib/jobs/fleet-visits'
import { parseDay } from '@/lib/units/dates'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')

const visitOf = (unit: string, hours: number, saving: number, more: Partial<VisitOf> = {}): VisitOf => ({
  ...{
    unit,
    plate: null,
    customer: null,
    site: 'North',
    family: 'dunlin-20',
    jobs: [],
    price: 400,
    visit: 60,
  },
  ...{ hours, hoursSaved: 0, saving, savingLow: saving / 2, savingHigh: saving * 2, exact: true, left: [] },
  ...{ parts: [], ...more },
})
const stopJob = { weakPoint: 'belt', stop: true } as VisitOf['jobs'][number] // ranking asks nothing else of it
const VISITS = [
  visitOf('V-10', 10, 900),
  visitOf('V-2', 2, 400, { site: 'South' }),
  visitOf('V-1', 4, 10, { jobs: [stopJob], site: null }),
]
const unitsOf = (query: string, usual: number | null = null) => {
  const asked = visitsAsked(Object.fromEntries(new URLSearchParams(query)), usual)
  const view = visitsView({ visits: VISITS }, asked)
  return { view, asked, units: view.rows.map(({ unit }) => unit) }
}

test('ranked by saving an hour unless asked otherwise, what must not be driven first, and a line where the hours run out', () => {
  const { view, units } = unitsOf('hours=7')
  expect([units, view.lineBefore]).toEqual([['V-1', 'V-2', 'V-10'], 2])
  expect(view.rows.map(({ fits }) => fits)).toEqual([true, true, false])
  expect(unitsOf('hours=14&sort=-saving')).toMatchObject({
    units: ['V-1', 'V-10', 'V-2'],
    view: { lineBefore: 2 },
  })
  // Bays' own hours where nobody has typed any; what is no number draws no line, and says so.
  expect(unitsOf('', 7).view.lineBefore).toBe(2)
  expect(unitsOf('hours=many', 7)).toMatchObject({ view: { lineBefore: null }, asked: { hours: null } })
  expect(unitsOf('hours=many').asked.unread).toContain('“many”')
  expect(unitsOf('hours=-3').asked.unread).toContain('“-3”')
})

test('in another order no line can be drawn: each row says whether it is in these hours', () => {
  const { view, units } = unitsOf('hours=7&sort=unit')
  expect([units, view.lineBefore]).toEqual([['V-1', 'V-2', 'V-10'], null])
  expect(view.rows.map(({ fits }) => fits)).toEqual([true, true, false])
  expect(unitsOf('sort=site').units.at(-1)).toBe('V-1')
  expect(unitsOf('sort=-site').units.at(-1)).toBe('V-1')
})

test('a site has its own ranking; the address keeps what is asked and nothing else', () => {
  expect(unitsOf('site=South').units).toEqual(['V-2'])
  expect(unitsOf('site=South').view.sites).toEqual(['North', 'South'])
  const { asked } = unitsOf('hours=7&site=South&sort=-perHour&x=y')
  expect(String(visitsParameters(asked, null))).toBe('hours=7&site=South')
  expect(String(visitsParameters(sortedBy(asked, 'unit'), 7))).toBe('site=South&sort=unit')
  expect(String(visitsParameters(sortedBy(sortedBy(asked, 'unit'), 'unit'), 7))).toBe('site=South&sort=-unit')
})

test('sentences tell what fits, with bands, and what is left', () => {
  const { view } = unitsOf('hours=7')
  expect(rankedWords(view.ranked, 7, formats)).toEqual([
    'Into 7 hours fit two visits of 6 hours together, which save about €410 (between €210 and €820, were all at the low or all at the high end).',
    'Below the line: one visit of 10 hours, which saves about €900 (between €450 and €1,800).',
  ])
  expect(lineWords(view.ranked.sums, 7, formats)).toBe('Here the 7 hours run out: 6 are given, 1 is left.')
  const none = unitsOf('hours=1').view
  expect(rankedWords(none.ranked, 1, formats)[0]).toBe(
    '1 hour is not enough for the vehicles that must not be driven: 1 of them waits below the line.',
  )
  expect(rankedWords(unitsOf('').view.ranked, null, formats)[0]).toContain('Say how many hours there are')
})

test('the file has the rows in their order, and no text that a spreadsheet would run', () => {
  const { view } = unitsOf('hours=7')
  const csv = csvText(
    visitsTold(view.rows, {
      ...{ asOf: parseDay('2026-06-30')!, terms: { currency: 'EUR' } },
      jobsOf: () => '=SUM(A1)',
    }),
  )
  const lines = csv.trimEnd().split(/\r?\n/)
  expect(lines[0]).toContain('Saves (EUR)')
  expect(lines.slice(1).map((line) => line.split(',')[0])).toEqual(['V-1', 'V-2', 'V-10'])
  expect(lines[1]).toContain("'=SUM(A1)")
  expect(lines[1]).toMatch(/yes,2026-06-30$/)
})
