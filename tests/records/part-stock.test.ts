import { expect, test } from 'vitest'
import { faultOfPart, type PartSaid, partColumns, standingParts } from '@/lib/records/part-stock'

const said = (line: Partial<PartSaid> = {}): PartSaid => ({
  part: 'P',
  whole: false,
  onHand: null,
  onOrder: null,
  dueOn: null,
  leadDays: null,
  price: null,
  supplier: null,
  ...line,
})
const standing = (...lines: Partial<PartSaid>[]) => standingParts(lines.map(said)).get('P')

test('a row that counts leaves price, lead time and supplier; a row that prices leaves the count', () => {
  const priced = { leadDays: 6, price: 180, supplier: 'Reed' }
  expect(standing({ onHand: 4, onOrder: 2, dueOn: 9, ...priced }, { onHand: 3 })).toEqual({
    ...{ part: 'P', onHand: 3, onOrder: 0, dueOn: null },
    ...priced,
  })
  expect(standing({ onHand: 4, onOrder: 2, dueOn: 9 }, { price: 200 })).toMatchObject({
    ...{ onHand: 4, onOrder: 2, dueOn: 9, leadDays: null, price: 200 },
  })
})

test('a whole line takes the place of everything, blanks too', () => {
  expect(standing({ onHand: 4, leadDays: 6 }, { whole: true, price: 3 })).toEqual({
    ...{ part: 'P', onHand: null, onOrder: null, dueOn: null, leadDays: null, price: 3, supplier: null },
  })
})

test('parts are apart', () => {
  expect([...standingParts([said(), said({ part: 'Q' })]).keys()]).toEqual(['P', 'Q'])
})

test.each([
  ['on_hand', '-1', /negative/],
  ['on_hand', '1.5', /not a whole number/],
  ['lead_days', '4000', /the most taken is 3,650 days/],
  ['price', '-3', /negative/],
  ['price', 'dear', /not a number/],
  ['due_on', '2026-02-30', /not a date/],
  ['part', ' ', /blank/],
])('%s %j is not taken', (column, cell, reason) => {
  const read = partColumns.safeParse({ part: 'P', [column]: cell })
  expect(read.error?.issues.map(({ message }) => message)).toEqual([expect.stringMatching(reason)])
})

test('a day for something that is not on order is a fault', () => {
  expect(faultOfPart({ onOrder: 0, dueOn: 9 })?.column).toBe('due_on')
  expect(faultOfPart({ onOrder: null, dueOn: 9 })?.column).toBe('due_on')
  expect([faultOfPart({ onOrder: 1, dueOn: 9 }), faultOfPart({ onOrder: 1, dueOn: null })]).toEqual([
    null,
    null,
  ])
})
