import { expect, test } from 'vitest'
import { parseEnvironment } from '@/lib/commands/environment'

const read = (variables: Record<string, string>) => parseEnvironment(variables)

test('what is not said is the usual: here, and public addresses alone are told of stops', () => {
  expect(read({ PORT: '4000', GUDGEON_ADDRESS: ' ' })).toMatchObject({
    ok: true,
    environment: { port: 4000, address: 'http://localhost:4000', webhooksAnywhere: false },
  })
})

test('where people find the product stands in what is sent, and private addresses may be allowed', () => {
  expect(
    read({ GUDGEON_ADDRESS: 'https://gudgeon.example/', GUDGEON_WEBHOOKS_ANYWHERE: 'yes' }),
  ).toMatchObject({
    ok: true,
    environment: { address: 'https://gudgeon.example', webhooksAnywhere: true },
  })
})

test.each([
  [{ GUDGEON_WEBHOOKS_ANYWHERE: 'true' }, 'GUDGEON_WEBHOOKS_ANYWHERE=true: expected yes or no'],
  [
    { GUDGEON_ADDRESS: 'gudgeon' },
    'GUDGEON_ADDRESS=gudgeon: expected an address like https://gudgeon.example',
  ],
  [{ PORT: '0' }, 'PORT=0: expected a whole number from 1 to 65535'],
])('%j stops the start with a clear line', (variables, message) => {
  expect(read(variables as Record<string, string>)).toEqual({ ok: false, message })
})
