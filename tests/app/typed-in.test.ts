import { expect, test } from 'vitest'
import { typedIn } from '@/app/(people)/families/new/typed-in'
import { weakPointFrom } from '@/lib/intake/family-forms'

const formOf = (fields: Record<string, string>) => {
  const data = new FormData()
  for (const [name, value] of Object.entries(fields)) data.set(name, value)
  return data
}

test('many cautions are kept to the last', () => {
  const cautions = Array.from(
    { length: 60 },
    (_, i) => `${i}: it is hot, under pressure and under voltage there.`,
  )
  const stated = { component: 'Pump', p10: '9', p50: '20', warning: '1', confidence: 'hunch' }
  const typed = typedIn(formOf({ ...stated, cautions: cautions.join('\n') }))
  expect(typed.ok && weakPointFrom(typed.value, 'km')).toMatchObject({ ok: true, value: { cautions } })
})

test('what is longer than people write is refused at its field, never cut', () => {
  const long = 'x'.repeat(20_000)
  expect(typedIn(formOf({ name: 'Pump', cautions: long }))).toEqual({
    ok: true,
    value: { name: 'Pump', cautions: long },
  })
  expect(typedIn(formOf({ name: 'Pump', cautions: `${long}x` }))).toEqual({
    ok: false,
    errors: [
      { field: 'cautions', message: 'This is 20001 characters long; up to 20000 are kept. Shorten it.' },
    ],
  })
})

test('how a form finds its action is nothing that was typed', () => {
  expect(typedIn(formOf({ $ACTION_1: 'x'.repeat(30_000), name: 'Pump' }))).toEqual({
    ok: true,
    value: { name: 'Pump' },
  })
})
