/** What the page of the plan says when the plan is out of date, and of the plan that is proposed in its place. */
import { expect, test } from 'vitest'
import { broughtWords, changesWords, namesWords } from '@/app/(people)/plan/anew-words'
import { gapLeft } from '@/app/(people)/plan/plan-words'
import { formatsFor } from '@/app/ui/formats'
import { parseDay } from '@/lib/units/dates'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')
const since = parseDay('2026-06-01')!
const nothing = {
  ...{ since, stopped: [], toBook: [], released: [], parts: [], booked: [] },
  ...{ otherWork: false, terms: false, weekOver: false },
}

test('since when it is out of date and by what, in one sentence', () => {
  expect(changesWords({ ...nothing, weekOver: true }, formats)).toBe(
    'Out of date since 1 Jun 2026: a week of it is over.',
  )
  const changes = { ...nothing, stopped: ['V-4'], toBook: ['V-1', 'V-2'], parts: ['V-9'], terms: true }
  expect(changesWords(changes, formats)).toBe(
    'Out of date since 1 Jun 2026: V-4 must not be driven now; V-1 and V-2 are to be booked in now; V-9 needs a part whose stock has changed; bays or hours were changed.',
  )
  expect(namesWords(['a', 'b', 'c', 'd'], formats)).toBe('a, b, c and d')
  expect(namesWords(['a', 'b', 'c', 'd', 'e'], formats)).toBe('a, b, c and 2 more')
})

const stays = { moved: [], added: [], dropped: [], otherJobs: [], otherBay: [], same: 4 }
const brought = (difference: object, more: object = {}) =>
  broughtWords(
    {
      difference: { ...stays, ...difference },
      gain: { before: 1000, after: 1400 },
      failures: { before: 0.62, after: 0.31 },
      isOverfull: false,
      ...more,
    },
    formats,
  )

test('what a proposed plan would change, what that brings, and the failures to expect', () => {
  const said = brought({
    moved: [{ unit: 'V-1', from: since, to: since + 7 }],
    dropped: [{ unit: 'V-2', from: since }],
  })
  expect(said).toEqual([
    'One visit moves to another week, one goes; 4 stay as they are. What is pinned or promised does not move.',
    'By what is known now it gains about €1,400 against leaving everything until after it; the plan as it stands gains about €1,000. Taking it gains about €400.',
    'Of the parts whose visits differ, about 0.3 are expected to fail before their visits or the end of the plan; as it stands about 0.6.',
  ])
  expect(brought({ otherBay: ['V-3'] }, { isOverfull: true })[1]).toMatch(
    /takes hours or weeks that are not there/,
  )
  expect(brought({ otherBay: ['V-3'] }, { failures: { before: 0.3, after: 0.3 } })[2]).toMatch(/as many/)
  expect(brought({})).toEqual(['Worked out again with all that is known now, every visit stays where it is.'])
})

test('what could still be found while a plan is made', () => {
  expect(gapLeft({ gain: 900, bound: null }, formats)).toBe('not known yet')
  expect(gapLeft({ gain: 900, bound: 900.2 }, formats)).toBe('nothing')
  expect(gapLeft({ gain: 900, bound: 1000 }, formats)).toBe('at most about €100 (10%)')
})
