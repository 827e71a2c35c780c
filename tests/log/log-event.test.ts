import fc from 'fast-check'
import { afterEach, describe, expect, test, vi } from 'vitest'
import { errorDetails, framesOf } from '@/lib/log/error-details.mjs'
import { EVENTS, type EventName } from '@/lib/log/events.mjs'
import { eventLine } from '@/lib/log/log-event.mjs'
import { quietConsole } from '@/lib/log/quiet-console.mjs'
import { withinRequest } from '@/lib/log/request-id.mjs'

const AT = new Date('2026-11-29T10:00:00.500Z')
const NAMES = Object.keys(EVENTS) as EventName[]

afterEach(() => vi.restoreAllMocks())

describe('an event', () => {
  test('is one line of JSON: when, how grave, what, in which request, and ids', () => {
    const line = withinRequest('r-1', () =>
      eventLine('permission refused', { person: 'p-7', act: 'plan', role: 'reader' }, AT),
    )
    expect(line).toBe(
      '{"time":"2026-11-29T10:00:00.500Z","level":"warn","event":"permission refused","request":"r-1","person":"p-7","role":"reader","act":"plan"}\n',
    )
    expect(eventLine('form of elsewhere refused', {}, AT)).not.toContain('request"')
  })

  test('tells no words: what does not look like an id is left out, and what is not on the list is not there', () => {
    const line = eventLine(
      'sign-in failed',
      { account: 'wren@example.invalid', from: 'Wren Marsh', password: 'heather' },
      AT,
    )
    expect(JSON.parse(line)).toMatchObject({ account: 'left out', from: 'left out' })
    expect(line).not.toMatch(/wren|heather|password/i)
  })

  test('is one line whatever it is given: nobody can write a second one', () => {
    const anything = fc.dictionary(fc.constantFrom('at', 'error', 'code', 'person', 'from', 'x'), fc.string())
    fc.assert(
      fc.property(fc.constantFrom(...NAMES), anything, (event, details) => {
        const line = eventLine(event, details, AT)
        expect(line.indexOf('\n')).toBe(line.length - 1)
        expect(JSON.parse(line)).toMatchObject({ event, level: EVENTS[event].level })
        for (const value of Object.values(details))
          if (/[\s@'"<>]/.test(value)) expect(Object.values(JSON.parse(line))).not.toContain(value)
      }),
    )
  })
})

describe('an error', () => {
  test('is told by class, code and place, without its message', () => {
    const error = Object.assign(new TypeError('Key (mail)=(wren@example.invalid) exists\n    at MX 77 TRE'), {
      code: 'P2002',
    })
    const details = errorDetails(error)
    expect(details).toMatchObject({ error: 'TypeError', code: 'P2002' })
    expect(JSON.stringify(details)).not.toMatch(/wren|MX 77/)
    expect(details.at?.toString()).toMatch(/^tests\/log\/log-event\.test\.ts:\d+:\d+/)
  })

  test('that is none is told by its type', () => {
    expect(errorDetails('wren@example.invalid')).toEqual({ error: 'string' })
    expect(framesOf(undefined)).toEqual([])
  })
})

test('what a library says through the console becomes an event without its words', () => {
  const written: string[] = []
  vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
    written.push(String(text))
    return true
  })
  const spoken = { ...console }
  quietConsole(spoken)
  spoken.error('User not found', { email: 'wren@example.invalid' })
  spoken.error('Error:', new RangeError('MX77TRE'))
  spoken.log('GET /vehicles/MX77TRE')
  expect(written.map((line) => JSON.parse(line).event)).toEqual(['library spoke', 'unexpected error'])
  expect(written.join('')).not.toMatch(/wren|MX77TRE/)
})
