import { afterEach, beforeEach, expect, test } from 'vitest'
import { IntakeRefusal } from '@/lib/intake/findings'
import { JobRefusal, toldFailure } from '@/lib/jobs/inner/failure'
import { listenToLog } from '../log/logged'

let log: ReturnType<typeof listenToLog>
beforeEach(() => {
  log = listenToLog()
})
afterEach(() => log.stop())

test.each([new JobRefusal('The draft is not there any more'), new IntakeRefusal('no vehicles.csv')])(
  '%s was said for people: they are told it, and it is no matter for the log',
  (refusal) => {
    expect(toldFailure(refusal)).toBe(refusal.message)
    expect(log.text()).toBe('')
  },
)

test.each([
  new Error('insert into "jobs" violates check constraint, DETAIL: (secret)'),
  new TypeError('undefined is not a function'),
  'thrown as text',
])('%s is for the log alone', (error) => {
  expect(toldFailure(error)).toBe('A fault of the server. Ask again; if it happens twice, its log says why')
  expect(log.events()).toMatchObject([{ event: 'unexpected error' }])
  expect(log.text()).not.toMatch(/secret|undefined is not|thrown as/)
})

test('a refusal that quotes much is cut', () => {
  expect(toldFailure(new JobRefusal('x'.repeat(2000)))).toHaveLength(500)
})
