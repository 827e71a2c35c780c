/** What counts as a database that does not answer, and as a disk that is full, in whatever an error wraps it. */
import { expect, test } from 'vitest'
import { isDatabaseGone, isDiskFull } from '@/lib/store/database-gone'

/** The three ways in which the word of the driver or of the database comes. */
const wrapped = (driver: { kind?: string; code?: string; originalMessage?: string }): Error[] => [
  Object.assign(new Error('failed'), { cause: driver }),
  Object.assign(new Error('failed'), { meta: { driverAdapterError: { cause: driver } } }),
  new Error('rolled back', { cause: Object.assign(new Error('failed'), { cause: driver }) }),
]

test.each([
  { kind: 'ConnectionClosed' },
  { kind: 'DatabaseNotReachable' },
  { kind: 'postgres', code: '57P02' },
  { kind: 'postgres', code: '08006' },
  { kind: 'postgres', code: 'XX000', originalMessage: 'Connection terminated unexpectedly' },
])('%o is a database that does not answer', (driver) => {
  for (const error of wrapped(driver))
    expect([isDatabaseGone(error), isDiskFull(error)]).toEqual([true, false])
})

test.each([{ kind: 'postgres', code: '53100' }])('%o is a disk that is full', (driver) => {
  for (const error of wrapped(driver))
    expect([isDatabaseGone(error), isDiskFull(error)]).toEqual([false, true])
  expect(isDiskFull(Object.assign(new Error('write'), { code: 'ENOSPC' }))).toBe(true)
})

test.each([{}, { kind: 'UniqueConstraintViolation' }, { kind: 'postgres', code: '22P02' }])(
  '%o is neither',
  (driver) => {
    for (const error of wrapped(driver))
      expect([isDatabaseGone(error), isDiskFull(error)]).toEqual([false, false])
    expect([isDatabaseGone('gone'), isDiskFull(null)]).toEqual([false, false])
  },
)
