import { afterEach, expect, test, vi } from 'vitest'
import { IntakeRefusal } from '@/lib/intake/findings'
import { JobRefusal, toldFailure } from '@/lib/jobs/inner/failure'

const log = vi.spyOn(console, 'error').mockImplementation(() => {})
afterEach(() => log.mockClear())

test.each([new JobRefusal('The draft is not there any more'), new IntakeRefusal('no vehicles.csv')])(
  '%s was said for people: they are told it, and it is no matter for the log',
  (refusal) => {
    expect(toldFailure(refusal)).toBe(refusal.message)
    expect(log).not.toHaveBeenCalled()
  },
)

test.each([
  new Error('insert into "jobs" violates check constraint, DETAIL: (secret)'),
  new TypeError('undefined is not a function'),
  'thrown as text',
])('%s is for the log alone', (error) => {
  expect(toldFailure(error)).toBe('A fault of the server. Ask again; if it happens twice, its log says why')
  expect(log).toHaveBeenCalledExactlyOnceWith(error)
})

test('a refusal that quotes much is cut', () => {
  expect(toldFailure(new JobRefusal('x'.repeat(2000)))).toHaveLength(500)
})
