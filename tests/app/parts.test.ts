/** Parts as they are shown: the order in the address, the words, the file of what to order. */
import { describe, expect, it } from 'vitest'
import { inOrder, partsAddress, partsAsked, sortedBy } from '@/app/(people)/parts/parts-asked'
import { partsTold, toOrder } from '@/app/(people)/parts/parts-told'
import { casesWords, comingWords, firstWords, oddsWords, orderWords } from '@/app/(people)/parts/parts-words'
import { csvText } from '@/app/(people)/twins/twin'
import { formatsFor } from '@/app/ui/formats'
import type { PartNow, PartsNow } from '@/lib/jobs/parts-now'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')
const TODAY = 20_000
const stock = { part: 'A', onHand: 1, onOrder: 0, dueOn: null, leadDays: 7, price: null, supplier: '=Reed' }
const part = (key: string, more: Partial<PartNow> = {}): PartNow => ({
  ...{ part: key, uses: [], mean: 1, planned: 0, p10: 0, p50: 1, p90: 2, p95: 3, enough: 3, stock: null },
  ...{
    need: { offset: 0, chance: Float64Array.of(1) },
    covered: 0.5,
    toOrder: 0,
    shortFrom: null,
    orderBy: null,
  },
  ...{ makers: [], named: [], price: null, priceOfLibrary: false, setOf: null },
  ...more,
})
const found = (parts: PartNow[]): PartsNow => ({
  ...{ today: TODAY, weeks: 8, level: 0.95, parts },
  missing: { library: false, scores: false, withoutPart: [], weakPoints: 1, stock: false },
})
const late = part('LATE', { toOrder: 2, price: 10, stock, shortFrom: TODAY + 1, orderBy: TODAY - 6 })
const soon = part('SOON', { toOrder: 1, price: null, stock, shortFrom: TODAY + 14, orderBy: TODAY + 7 })
const unsaid = part('UNSAID', { toOrder: 1, price: 500, shortFrom: TODAY })

describe('the address', () => {
  it('holds what is asked, and nothing that is asked anyway', () => {
    for (const address of ['/parts', '/parts?weeks=4', '/parts?weeks=13&sort=-mean&open=A+%26+B'])
      expect(partsAddress(partsAsked(Object.fromEntries(new URL(address, 'http://x').searchParams)))).toBe(
        address,
      )
    expect(partsAsked({ weeks: '9', sort: 'odd', open: ' ' })).toEqual(partsAsked({}))
  })
  it('sorts by a column the way that tells most first, then the other way', () => {
    const asked = partsAsked({})
    expect(sortedBy(asked, 'mean')).toEqual({ by: 'mean', descending: true })
    expect(sortedBy({ ...asked, sort: { by: 'mean', descending: true } }, 'mean').descending).toBe(false)
    expect(sortedBy(asked, 'part').descending).toBe(false)
  })
})

it('what is to be ordered soonest stands first, what is enough last', () => {
  const all = [part('ENOUGH'), soon, late]
  expect(inOrder(all, { by: 'by', descending: false }).map((each) => each.part)).toEqual([
    'LATE',
    'SOON',
    'ENOUGH',
  ])
  expect(inOrder([part('P10'), part('P9')], { by: 'part', descending: false })[0]!.part).toBe('P9')
})

describe('the words', () => {
  it('say what today asks for, with what comes too late and what has no price', () => {
    expect(firstWords(found([part('A')]), formats)).toBe(
      'What is there and on order is enough for the coming 8 weeks in 19 of 20 cases.',
    )
    expect(firstWords(found([late, soon]), formats)).toBe(
      'To have enough for the coming 8 weeks in 19 of 20 cases, 2 parts are to be ordered, for €20 (1 without a price). One comes too late even if ordered today.',
    )
  })
  it('say by when to order', () => {
    expect(orderWords(part('A'), TODAY, formats)).toBe('enough')
    expect(orderWords(part('A', { shortFrom: TODAY }), TODAY, formats)).toMatch(
      /^enough, but may be short from/,
    )
    expect(orderWords(late, TODAY, formats)).toMatch(/^today: too late for/)
    expect(orderWords(soon, TODAY, formats)).toMatch(/^by /)
    expect(orderWords(unsaid, TODAY, formats)).toBe('soon: nobody has said how long it takes')
  })
  it('say what is on order, and when it was due', () => {
    expect(comingWords(null, TODAY, formats)).toBe('–')
    expect(comingWords(stock, TODAY, formats)).toBe('none')
    expect(comingWords({ ...stock, onOrder: 2, dueOn: TODAY - 1 }, TODAY, formats)).toMatch(/^2, was due/)
    expect(comingWords({ ...stock, onOrder: 2 }, TODAY, formats)).toBe('2, day not said')
  })
  it('say shares and odds as people do', () => {
    expect([0.95, 0.9, 0.5, 0.975].map((level) => casesWords(level, formats))).toEqual([
      '19 of 20 cases',
      '9 of 10 cases',
      '1 of 2 cases',
      '97.50% of all cases',
    ])
    expect([0.2, 0.004, 1e-9].map((chance) => oddsWords(chance, formats))).toEqual([
      '20%',
      'once in 250',
      'less than once in a million',
    ])
  })
})

it('the file has what is to be ordered and nothing else, and no cell that a spreadsheet would reckon', () => {
  const lines = csvText(partsTold('order', toOrder([late, part('ENOUGH')]), found([]), 'EUR'))
    .trimEnd()
    .split('\r\n')
  expect(lines).toHaveLength(2)
  expect(lines[0]).toContain('Price of the order (EUR)')
  expect(lines[1]).toBe("LATE,,'=Reed,2,2024-09-28,2024-10-05,7,10,20,1,0,,1,3,2024-10-04")
})
