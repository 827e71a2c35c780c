import { expect, test } from 'vitest'
import { waitingWords } from '@/app/(people)/intake/words'
import type { RejectedGroup } from '@/lib/intake/group-rejected'

const GROUP: RejectedGroup = {
  ...{ key: 'k', cause: 'word', column: 'variant', value: null, reason: '', mend: null },
  files: [['vehicles.csv', 300]],
  rows: 300,
  waiting: 4012,
  awaited: 300,
  waitingIn: [
    ['readings.csv', 4000],
    ['codes.csv', 12],
  ],
}
const words = (group: Partial<RejectedGroup>) =>
  waitingWords({ ...GROUP, ...group }, (n) => n.toLocaleString('en'))

test('what waits is told with what it waits for, and what comes first', () => {
  expect(words({})).toBe(
    '4,012 rows of readings.csv, codes.csv wait for these 300 vehicles: mend vehicles.csv first, and they go in with it.',
  )
  expect(words({ awaited: 280 })).toMatch(/wait for 280 of these vehicles: /)
  expect(words({ cause: 'file', rows: 1 })).toMatch(/wait for 300 vehicles: mend vehicles\.csv first/)
  expect(words({ rows: 1, awaited: 1, waiting: 1, waitingIn: [['codes.csv', 1]] })).toBe(
    '1 row of codes.csv waits for this vehicle: mend vehicles.csv first, and it goes in with it.',
  )
})

test('a group that was noted before that was told says what it can', () => {
  const { awaited: _, waitingIn: __, ...old } = GROUP
  expect(waitingWords(old, String)).toBe(
    '4012 rows of other files wait for this alone: mend vehicles.csv first, and they go in with it.',
  )
})
