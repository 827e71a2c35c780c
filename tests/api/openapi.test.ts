import { Validator } from '@seriousme/openapi-schema-validator'
import { expect, test } from 'vitest'
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
