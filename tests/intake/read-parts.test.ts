import { describe, expect, test } from 'vitest'
import { groupRejected } from '@/lib/intake/group-rejected'
import { kindOfFile } from '@/lib/intake/kind-of-file'
import { mendGroup } from '@/lib/intake/mend-staged'
import { readParts } from '@/lib/intake/read-parts'
import { readStaged } from '@/lib/intake/read-staged'
import { template } from '@/lib/intake/template'
import { partsFile } from '@/lib/intake/write-folder'

const bytesOf = (text: string) => Buffer.from(text)
const read = (text: string, known: string[] = ['INJ-22', 'GSK-7']) =>
  readParts({ name: 'parts.csv', bytes: bytesOf(text) }, new Set(known))

test('each row goes in, or is refused with its line, column and reason', () => {
  const { parts, rejected } = read(
    [
      'part;on_hand;on_order;due_on;lead_days;price;supplier;shelf',
      'INJ-22;4;2;2026-07-14;6;180;Reed;A3',
      'INJ-22;5;;;;;;',
      'GSK-7;-1;;;;;;',
      'NEW-1;1.5;;;;;;',
      'NEW-2;1;0;2026-07-14;;;;',
      ';1;;;;;;',
      'NEW-3;1;x;;;-2;;',
      'NEW-4;1e3;;;;;;',
    ].join('\n'),
  )
  expect(parts.map(({ part, onHand }) => [part, onHand])).toEqual([
    ['INJ-22', 4],
    ['NEW-4', 1000],
  ])
  expect(parts[0]).toEqual({
    ...{ part: 'INJ-22', onHand: 4, onOrder: 2, dueOn: 20_648, leadDays: 6, price: 180, supplier: 'Reed' },
    notes: { shelf: 'A3' },
  })
  expect(rejected.map(({ line, column, reason }) => [line, column, reason])).toEqual([
    [3, 'part', 'a second row for "INJ-22"; the one on line 2 went in'],
    [4, 'on_hand', '-1 is negative'],
    [5, 'on_hand', '1.5 is not a whole number'],
    [6, 'due_on', 'says that something is to come on 2026-07-14, but on_order says that nothing is'],
    [7, 'part', 'is blank, and must not be'],
    [8, 'on_order', '"x" is not a number written like 84210.5; price: -2 is negative'],
  ])
})

test('a part that no weak point uses is kept, and told with the nearest', () => {
  const { parts, notices } = read('part,on_hand\nINJ-2,1\nother,2\n')
  expect(parts).toHaveLength(2)
  expect(notices.map(({ line, message }) => [line, message])).toEqual([
    [2, 'part: no weak point uses "INJ-2"; did you mean "INJ-22"?; it is kept'],
    [3, 'part: no weak point uses "other"; it is kept'],
  ])
})

test('a file without the column of parts is one refused line', () => {
  expect(read('item,on_hand\nA,1\n').rejected).toMatchObject([{ line: 1, column: '' }])
})

describe('what a file is', () => {
  test.each([
    ['stock.csv', 'part,on_hand\n', 'parts'],
    ['parts.csv', 'a,b\n', 'parts'],
    ['lead times.csv', 'part,lead_days\n', 'parts'],
    // A table that names a part on each line is not one of parts.
    ['bills.csv', 'date,vehicle,part,price\n', null],
  ])('%s with %j is %s', (name, text, kind) => {
    expect(kindOfFile(name, bytesOf(text))).toBe(kind)
  })
})

test('parts go in without any vehicle, and refused rows are grouped and mended', () => {
  const file = {
    name: 'parts.csv',
    kind: 'parts' as const,
    bytes: bytesOf('part,price\nA,"1,50"\nB,"2,25"\n'),
  }
  const ground = { library: null, currency: null, today: 20_000 }
  const { parts, refused } = readStaged([file], ground)
  expect(refused).toEqual([])
  const rejected = parts.flatMap((each) => each.rejected)
  const [group] = groupRejected(parts)
  expect(group).toMatchObject({ rows: 2, column: 'price', mend: { how: 'number', decimal: ',' } })
  const [mended] = mendGroup([file], rejected, group!.key, 'all')
  const again = readStaged([mended!], ground).parts[0]!
  expect([again.rejected, again.parts.map(({ price }) => price)]).toEqual([[], [1.5, 2.25]])
})

test('the template goes in as it is, and what is written is read back', () => {
  const { parts, rejected } = read(template('parts'))
  expect([parts.length, rejected]).toEqual([2, []])
  expect(read(Buffer.from(partsFile(parts)).toString()).parts).toEqual(parts)
})
