import { Validator } from '@seriousme/openapi-schema-validator'
import { expect, test } from 'vitest'
import { z } from 'zod'
import {
  type Endpoint,
  LIST_PARTS,
  LIST_RECORDS,
  LIST_SCORES,
  LIST_VEHICLES,
  SHOW_VEHICLE,
} from '@/app/api/contract'
import { EXAMPLE_LIBRARY } from '../records/example-library'
import { ask, machine, ROUTES } from './machine'

const { organisation } = await machine()

type Description = {
  openapi: string
  paths: Record<string, Record<string, { parameters: unknown[]; responses: Record<string, unknown> }>>
  components: { schemas: Record<string, { properties: Record<string, unknown>; required: string[] }> }
}

const describeMachine = async () => {
  const { status, text } = await ask('GET', '/api/openapi.json')
  expect(status).toBe(200)
  return JSON.parse(text) as Description
}

test('the description needs no token, and is valid OpenAPI 3.1 by another’s rules', async () => {
  const validator = new Validator()
  const description = await describeMachine()
  expect(await validator.validate(description)).toEqual({ valid: true })
  expect(validator.version).toBe('3.1')
  expect((await validator.validate({ ...description, paths: 7 })).valid).toBe(false)
})

test('it tells every address that there is, and no other', async () => {
  const told = Object.keys((await describeMachine()).paths).map((path) => `/api/v1${path}`)
  const there = ROUTES.filter((route) => route.startsWith('/api/v1')).map((route) =>
    route.replace('[unit]', '{unit}'),
  )
  expect(told.sort()).toEqual(there.sort())
})

test('it tells every method that an address answers: the others are 405', async () => {
  const { tokens } = await organisation('described')
  for (const [path, methods] of Object.entries((await describeMachine()).paths))
    for (const method of ['GET', 'POST', 'PUT', 'PATCH', 'DELETE']) {
      const address = `/api/v1${path.replace('{unit}', 'V1')}`
      const { status } = await ask(method, address, { token: tokens.owner })
      expect(status !== 405, `${method} ${path}`).toBe(method.toLowerCase() in methods)
    }
})

test('rows have the columns of the files, with their types, and say which are needed', async () => {
  const { schemas } = (await describeMachine()).components
  expect(schemas.Readings?.required).toEqual(['unit', 'read_on', 'odometer_km'])
  expect(schemas.Readings?.properties).toMatchObject({
    unit: { type: ['string', 'number'], maxLength: 200 },
    read_on: { type: ['string'], format: 'date' },
    odometer_km: { type: ['number', 'string'], minimum: 0, maximum: 10_000_000 },
    source: { type: ['string', 'number', 'null'] },
  })
  expect(schemas.Codes?.properties.lamp).toMatchObject({ enum: [true, false, 'yes', 'no', '', null] })
  expect(schemas.Checks?.properties.seen).toMatchObject({ type: ['array', 'string', 'null'] })
})

test('other methods than GET are 405', async () => {
  expect((await ask('POST', '/api/openapi.json')).status).toBe(405)
})

test('answers have the form that the description tells, whatever is blank', async () => {
  const { tokens } = await organisation('answering')
  const send = async (method: string, address: string, json: unknown) => {
    const answer = await ask(method, `/api/v1/${address}`, { token: tokens.owner, json })
    expect(answer.status, answer.text).toBe(200)
    expect(answer.json().rejected ?? []).toEqual([])
  }
  await send('PUT', 'library', EXAMPLE_LIBRARY)
  const full = { plate: 'P 1', in_service_on: '2020-01-01', value: 9500, status: 'stock', customer: 'Reed' }
  await send('POST', 'vehicles', [
    { unit: 'F1', family: 'plover-22', ...full },
    { unit: 'F2', family: 'plover-22' },
  ])
  for (const [kind, day, blank, more] of ROWS_SENT)
    await send('POST', kind, [
      { unit: 'F1', [day]: '2026-06-01', ...blank },
      { unit: 'F1', [day]: '2026-06-02', ...blank, ...more, odd: 'x' },
    ])
  await send('PUT', 'parts', [{ part: 'INJ-22', on_hand: 4, price: 1.5 }, { part: 'X-1' }])
  const answers: [Endpoint, string, number][] = [
    [LIST_VEHICLES, 'vehicles', 2],
    [SHOW_VEHICLE, 'vehicles/F1', 1],
    [LIST_RECORDS, 'vehicles/F1/records', 2 * ROWS_SENT.length],
    [LIST_PARTS, 'parts', 2],
    [LIST_SCORES, 'scores', 12],
  ]
  for (const [{ answer }, address, items] of answers) {
    const told = (await ask('GET', `/api/v1/${address}`, { token: tokens.reader })).json()
    expect(Array.isArray(told.items) ? told.items.length : 1, address).toBe(items)
    // Nothing is missing, of another type, or there and not told.
    expect(z.strictObject((answer as z.ZodObject).shape).parse(told), address).toEqual(told)
  }
})

/** Rows of each kind, with as little as may be, and with more. */
const ROWS_SENT: [kind: string, day: string, blank: object, more: object][] = [
  ['readings', 'read_on', { odometer_km: 1000 }, { engine_hours: 5, source: 'tracker' }],
  ['codes', 'seen_on', { code: 'P0302' }, { state: 'pending', lamp: 'yes', odometer_km: '7' }],
  ['checks', 'checked_on', { kind: 'visual' }, { seen: 'oil-seep', looked_for: 'oil-seep' }],
  ['repairs', 'done_on', { weak_point: 'injector', action: 'renew' }, { positions: '1 2', found: 'failed' }],
  ['changes', 'on', { kind: 'owner' }, { odometer_km: 2000 }],
]
