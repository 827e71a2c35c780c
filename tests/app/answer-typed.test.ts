import { expect, test } from 'vitest'
import { answersTyped } from '@/app/(people)/vehicles/[unit]/answer-typed'
import { parseForm } from '@/app/ui/form-state'
import type { ActName } from '@/lib/decisions/proposals'
import { formatDay } from '@/lib/units/dates'

const TODAY = 20_000

function typed(act: ActName, fields: Record<string, string>) {
  const data = new FormData()
  for (const [name, value] of Object.entries(fields)) data.set(name, value)
  const parsed = parseForm<object>(answersTyped(TODAY)[act], data)
  return parsed.ok ? parsed.value : parsed.errors.map(({ field }) => field)
}

const inDays = (days: number) => formatDay(TODAY + days)

test('what is no day is told, and never taken for "not to be asked again"', () => {
  const no = { reason: 'too dear' }
  expect(typed('declined', { ...no, askAgainOn: '' })).toEqual({ ...no, askAgainOn: null })
  expect(typed('declined', { ...no, askAgainOn: inDays(30) })).toEqual({ ...no, askAgainOn: TODAY + 30 })
  for (const askAgainOn of ['31.12.', '2026-02-30', inDays(0), inDays(-1)]) {
    expect(typed('declined', { ...no, askAgainOn })).toEqual(['askAgainOn'])
    expect(typed('put-off', { ...no, askAgainOn })).toEqual(['askAgainOn'])
  }
  expect(typed('put-off', { ...no, askAgainOn: '' })).toEqual(['askAgainOn'])
})

test('a visit lies ahead, work that is done does not', () => {
  expect(typed('booked', { visitOn: inDays(0) })).toEqual({ visitOn: TODAY })
  expect(typed('booked', { visitOn: inDays(-1) })).toEqual(['visitOn'])
  expect(typed('done', { doneOn: inDays(0) })).toEqual({ doneOn: TODAY })
  expect(typed('done', { doneOn: inDays(1) })).toEqual(['doneOn'])
})

test('a text is there, fits, and can be kept', () => {
  expect(typed('told', { whom: ' Mrs Field ', how: 'call' })).toEqual({ whom: 'Mrs Field', how: 'call' })
  for (const whom of ['', ' x ', 'x'.repeat(301), 'a\0b'])
    expect(typed('told', { whom, how: 'call' })).toEqual(['whom'])
  expect(typed('told', { whom: 'Mrs Field', how: 'by owl' })).toEqual(['how'])
})
