/** Every method of every address of the machine interface, attempted with a token of every role and without one. */
import { beforeAll, expect, test } from 'vitest'
import { can } from '@/lib/people/permissions'
import { ROLES } from '@/lib/store/role'
import { MACHINE, rulesIn } from '../people/access-rules'
import { ask, machine, ROUTES } from './machine'

const METHODS = ['GET', 'POST', 'PUT', 'PATCH', 'DELETE']
const RULES = rulesIn(MACHINE)
const { organisation } = await machine()
const { tokens } = await organisation('attempted')
const other = await organisation('another')

/** The addresses that answer every method and everybody that there is nothing. */
const NOTHING = ['/api/[[...path]]', '/api/broken-address']
const asked = ROUTES.filter((route) => !NOTHING.includes(route)).flatMap((route) =>
  METHODS.map((method) => ({ method, route, rule: RULES.get(`${method} ${route}`) ?? null })),
)

const UNIT = 'V1'
const addressOf = (route: string) => route.replace('[unit]', UNIT)
const attempt = async ({ method, route }: { method: string; route: string }, token?: string) => {
  const body = method === 'GET' ? {} : { json: [] }
  return (await ask(method, addressOf(route), { token, ...body })).status
}

beforeAll(async () => {
  const json = [{ unit: UNIT, family: 'plover-22', in_service_on: '2020-01-01' }]
  expect((await ask('POST', '/api/v1/vehicles', { token: tokens.owner, json })).status).toBe(200)
})

test('every rule is about an address that there is', () => {
  const known = new Set(asked.map(({ method, route }) => `${method} ${route}`))
  expect([...RULES.keys()].filter((name) => !known.has(name))).toEqual([])
})

test.each(ROLES)('a token with the role %s is let in where the rule says, and nowhere else', async (role) => {
  const wrong: string[] = []
  for (const each of asked) {
    const status = await attempt(each, tokens[role])
    const { method, route, rule } = each
    const expected = rule === null ? 405 : rule === 'open' || can(role, rule) ? 'let in' : 403
    const found = [403, 405].includes(status) ? status : 'let in'
    if (found !== expected || status === 401) wrong.push(`${method} ${route}: ${status}, not ${expected}`)
  }
  expect(wrong).toEqual([])
})

test('without a token nothing is answered but the description', async () => {
  const wrong: string[] = []
  for (const each of asked.filter(({ route }) => route.startsWith('/api/v1/'))) {
    const status = await attempt(each)
    if (status !== 401) wrong.push(`${each.method} ${each.route}: ${status}`)
  }
  expect(wrong).toEqual([])
})

test('what is another organisation’s is not there', async () => {
  const named = asked.filter(({ route, rule }) => rule !== null && route.includes('['))
  expect(named.length).toBeGreaterThan(0)
  for (const each of named) {
    expect(await attempt(each, tokens.owner), each.route).toBe(200)
    expect(await attempt(each, other.tokens.owner), each.route).toBe(404)
  }
})
