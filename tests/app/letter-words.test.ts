/** What a letter says: each rule that it must keep, read from its text. */
import { describe, expect, it } from 'vitest'
import { callsTold } from '@/app/(people)/calls/calls-told'
import {
  type CallsView,
  callsAddress,
  callsIn,
  callsSortedBy,
  callsViewIn,
  ofKind,
} from '@/app/(people)/calls/calls-view'
import { papersAsPdf } from '@/app/(people)/paper/paper-pdf'
import { csvText } from '@/app/(people)/twins/twin'
import { letterMark, letterPaper, letterText } from '@/app/(people)/vehicles/[unit]/letter/letter-paper'
import { halves } from '@/app/ui/chance-words'
import { formatsFor } from '@/app/ui/formats'
import { NO_CAUTIONS } from '@/app/ui/library-words'
import { CAUTION, NOT_COVERED, STOP_ORDERS } from '@/app/ui/words'
import type { CallRow } from '@/lib/jobs/calls'
import type { Letter } from '@/lib/jobs/letter'
import { parseDay } from '@/lib/units/dates'
import { readPdf } from './read-pdf'

const TODAY = parseDay('2026-11-28')!
const formats = formatsFor({ locale: 'en-GB', currency: 'GBP' }, 'mi')
const job = (more: Partial<Letter['jobs'][number]> = {}): Letter['jobs'][number] => ({
  ...{ weakPoint: 'pump', name: 'Coolant pump', place: null, positions: [1], failureMode: 'seizes' },
  ...{ chance: { pFail: 0.2, pLow: 0.125, pHigh: 0.33 }, price: 240, priceIfFails: 900, hours: 2 },
  ...{ gain: 120, low: 40, high: 260, due: true, intervalOut: false, lookedOn: TODAY - 20 },
  seen: [{ label: 'Whine from the belt side', position: null, lastOn: TODAY - 20 }],
  unlooked: [{ label: 'Damp below the pump', position: null, lastOn: null }],
  cautions: ['Let it cool before the system is opened.'],
  ...more,
})
const letterOf = (more: Partial<Letter> = {}): Letter => ({
  ...{
    unit: 'STP-0101',
    plate: 'STP-0101',
    familyName: 'Siskin 1.2',
    from: 'Shop',
    customer: 'K. Plimibble',
  },
  ...{
    today: TODAY,
    days: 90,
    odometerKm: 80_000,
    odometerReadOn: TODAY - 20,
    jobs: [job()],
    visit: 20,
    hours: 2,
  },
  money: { jobs: [], price: 240, saving: 120, low: 40, high: 260, chance: job().chance, allGood: 0.3 },
  waits: [],
  ...{ weakPointsCovered: 9, lastLookedAtOn: TODAY - 20 },
  ...more,
})
const textOf = (more: Partial<Letter> = {}) => letterText(letterPaper(letterOf(more), formats))

describe('a letter says', () => {
  it('what was seen on this engine and when, and what nobody has looked for', () => {
    const text = textOf()
    expect(text).toContain('Seen on your vehicle: Whine from the belt side (last on 8 Nov 2026).')
    expect(text).toContain('Not looked for lately: Damp below the pump.')
    expect(textOf({ jobs: [job({ seen: [], lookedOn: TODAY - 3, unlooked: [] })] })).toContain(
      'No sign of it was seen',
    )
    const out = textOf({ jobs: [job({ seen: [], lookedOn: null, intervalOut: true })] })
    expect(out).toContain('Nobody has looked for its signs lately; its interval has run out.')
  })

  it('the chance in plain words with its band, and both halves', () => {
    expect(textOf()).toContain('about 1 in 5 (between 1 in 8 and 1 in 3)')
    expect(textOf()).toMatch(
      /Of 10 such vehicles left for three months, the part fails on about 2; on 8 it does not\./,
    )
  })

  it('what it costs now and later, what it saves with its band, and that it may be spent for nothing', () => {
    const text = textOf()
    expect(text).toContain('Done now it costs about £240; if it fails first, about £900')
    expect(text).toContain('about £120 (between £40 and £260)')
    expect(text).toContain('£20 for coming in')
    expect(text).toMatch(
      /spent for nothing: the chance that it is still good when it is opened is about 1 in 3/,
    )
  })

  it('what may wait and until when, what is not sure, and what to look at first', () => {
    const wait = { ...job(), chance: { pFail: 0.04, pLow: 0.02, pHigh: 0.06 } }
    const waits = (why: 'later' | 'unsure' | 'not-looked', until: number | null = TODAY + 200) =>
      textOf({ waits: [{ ...wait, why, until }] })
    expect(waits('later')).toContain('It may wait until about Jun 2027, unless a sign shows.')
    expect(waits('later', null)).toContain('It may wait for years')
    expect(waits('unsure')).toContain('we do not ask you for it')
    expect(waits('not-looked')).toContain('we would look first')
  })

  it('cautions, who has the last word, what is not covered, that a chance is no finding, and how to get no more', () => {
    const text = textOf()
    for (const each of [CAUTION, NOT_COVERED, 'Let it cool', 'not a finding on yours', 'no more letters'])
      expect(text).toContain(each)
    expect(textOf({ jobs: [job({ cautions: [] })] })).toContain(NO_CAUTIONS)
    expect(textOf({ lastLookedAtOn: null })).toContain('Nobody has looked at the vehicle yet.')
  })

  it('nothing of not driving, which is a telephone call', () => {
    expect(letterPaper(letterOf(), formats).alarm).toBeNull()
    expect(textOf()).not.toContain(STOP_ORDERS)
  })

  it('all of several jobs, and another text has another mark', () => {
    const two = textOf({ jobs: [job(), job({ weakPoint: 'belt', name: 'Belt', due: false })] })
    expect(two).toContain('Belt')
    expect(two).toContain('One job on it, with what is easily done along with it, costs you less now')
    expect(textOf()).toContain('One job on it costs you less now')
    expect(two).toContain('It goes along because what hides it is open then.')
    expect(letterMark(two)).not.toBe(letterMark(textOf()))
    expect(letterMark(textOf())).toBe(letterMark(textOf()))
  })
})

it('a letter is one page as a PDF, however many jobs it has, with its halves, its cautions and the last word', async () => {
  const jobs = Array.from({ length: 9 }, (_, i) => job({ weakPoint: `part-${i}`, name: `Part ${i}` }))
  const waits = [1, 2, 3, 4].map((i) => ({
    ...job({ name: `Hose ${i}` }),
    why: 'later' as const,
    until: TODAY + 100,
  }))
  const pages = await readPdf(await papersAsPdf([letterPaper(letterOf({ jobs, waits }), formats)], 'a4'))
  expect(pages).toHaveLength(1)
  const text = pages[0]!.text.replace(/\s+/g, ' ')
  for (const each of [
    'Of 10 such vehicles',
    'Let it cool',
    'spent for nothing',
    'qualified technician',
    'K. Plimibble',
  ])
    expect(text).toContain(each)
}, 120_000)

it('both halves are whole, both are there, and they are the chance but for rounding', () => {
  expect(halves(0.2)).toEqual({ of: 10, fail: 2, hold: 8 })
  expect(halves(0.12)).toEqual({ of: 50, fail: 6, hold: 44 })
  for (let p = 0.002; p < 0.999; p += 0.003) {
    const { of, fail, hold } = halves(p)
    expect([fail + hold, fail > 0, hold > 0]).toEqual([of, true, true])
    expect(Math.abs(fail / of - p)).toBeLessThan(0.26 * Math.min(p, 1 - p))
  }
})

describe('the lists of calls', () => {
  const row = (unit: string, saving: number | null, more: Partial<CallRow> = {}): CallRow => ({
    ...{
      unit,
      plate: unit,
      family: 'siskin',
      familyName: 'Siskin',
      customer: 'Ann',
      contact: '=1+1',
      standing: 'book',
    },
    ...{ lastRecordOn: TODAY, notice: null },
    call:
      saving === null
        ? { kind: 'silent', silence: { why: 'nothing-due' }, bundle: null }
        : ({ kind: 'write' } as never),
    money: saving === null ? null : { ...letterOf().money, saving },
    ...more,
  })
  const ROWS = [
    row('A', 50),
    row('B', null),
    row('C', 200),
    row('D', 50, { customer: 'Bo', family: 'dunlin' }),
  ]
  const units = (view: Partial<CallsView>) =>
    callsIn(ROWS, { ...callsViewIn({}), ...view }).map(({ unit }) => unit)

  it('stand by what they save, the most first; equal ones by vehicle, and those without a figure last', () => {
    expect(units({})).toEqual(['C', 'A', 'D', 'B'])
    expect(units({ descending: false })).toEqual(['A', 'D', 'C', 'B'])
    expect(units({ sort: 'customer', descending: false })).toEqual(['A', 'B', 'C', 'D'])
    expect(units({ q: 'bo' })).toEqual(['D'])
    expect(units({ engine: 'siskin' })).toEqual(['C', 'A', 'B'])
    expect(ofKind(ROWS, 'silent')).toEqual([])
  })

  it('keep their state in the address, and take what it does not understand for the usual', () => {
    const view: CallsView = { q: 'ann & bo', engine: 'x', sort: 'price', descending: true }
    const address = new URL(callsAddress(view), 'http://page.invalid')
    expect(callsViewIn(Object.fromEntries(address.searchParams))).toEqual(view)
    expect(callsAddress(callsViewIn({ sort: 'nonsense' }))).toBe('/calls')
    expect(callsSortedBy(view, 'price').descending).toBe(false)
    expect(callsSortedBy(view, 'heard')).toMatchObject({ sort: 'heard', descending: false })
  })

  it('come as CSV with units in the headings, and no formula', () => {
    const list = { today: TODAY, rows: ROWS, pending: 0, letterEveryDays: 90, quietMonths: 15 }
    const [heading, first] = csvText(callsTold(list, callsViewIn({}), { currency: 'GBP', formats })).split(
      '\r\n',
    )
    expect(heading).toContain('Saving (GBP)')
    expect(first).toMatch(/^Worth writing to,,C,C,Siskin,Ann,'=1\+1,/)
  })
})
