import { describe, expect, test } from 'vitest'
import { listenToLog } from '../log/logged'
import { EXAMPLE_LIBRARY } from '../records/example-library'
import { type Asked, ask, machine } from './machine'

const { organisation } = await machine()
const { tokens } = await organisation('asked')
const other = await organisation('another')

const VEHICLE = { unit: 'V1', family: 'plover-22', in_service_on: '2020-01-01' }

async function problemOf(method: string, address: string, asked: Asked) {
  const answer = await ask(method, address, asked)
  expect(answer.headers.get('Content-Type')).toBe('application/problem+json')
  const problem = answer.json()
  expect(problem).toMatchObject({
    status: answer.status,
    title: expect.any(String),
    detail: expect.any(String),
  })
  return {
    ...answer,
    type: String(problem.type).replace('/api/problems/', ''),
    detail: String(problem.detail),
  }
}

test('what cannot be taken stands in the log by its kind, without what was sent', async () => {
  const log = listenToLog()
  const sent = { token: tokens.owner, body: '{"Secret of Wren"' }
  await ask('POST', '/api/v1/readings', { ...sent, headers: { 'Content-Type': 'application/json' } })
  await ask('POST', '/api/v1/readings', { ...sent, headers: { 'Content-Type': 'text/wren' } })
  await ask('DELETE', '/api/v1/readings', { token: tokens.owner })
  const [events, text] = [log.events(), log.text()]
  log.stop()
  expect(events.map(({ event, problem, status }) => [event, problem, status])).toEqual([
    ['request refused', 'invalid', 422],
    ['request refused', 'media-type', 415],
    ['request refused', 'no-such-method', 405],
  ])
  expect(text).not.toContain('Wren')
})

describe('who may', () => {
  test.each([undefined, '', 'x', `${tokens.owner}x`, tokens.owner.slice(0, -2)])(
    '401 with the token %s',
    async (token) => {
      const { status, type, headers } = await problemOf('GET', '/api/v1/vehicles', { token })
      expect([status, type]).toEqual([401, 'no-token'])
      expect(headers.get('WWW-Authenticate')).toMatch(/^Bearer/)
    },
  )

  const posts = ['vehicles', 'changes', 'readings', 'codes', 'checks', 'repairs']
  const mayNot: [string, string, string][] = [
    ...posts.map((kind) => ['reader', 'POST', kind] as [string, string, string]),
    ['reader', 'PUT', 'library'],
    ['technician', 'POST', 'vehicles'],
    ['technician', 'POST', 'changes'],
    ['technician', 'PUT', 'library'],
  ]
  test.each(mayNot)('403 for a %s to %s %s, before the body is read', async (role, method, kind) => {
    const token = tokens[role as keyof typeof tokens]
    const { status } = await problemOf(method, `/api/v1/${kind}`, { token, body: 'no body of any kind' })
    expect(status).toBe(403)
  })

  test.each([
    ['technician', 'readings'],
    ['technician', 'codes'],
    ['technician', 'checks'],
    ['technician', 'repairs'],
    ['planner', 'vehicles'],
    ['planner', 'changes'],
    ['owner', 'vehicles'],
  ])('200 for a %s to POST %s', async (role, kind) => {
    const token = tokens[role as keyof typeof tokens]
    expect((await ask('POST', `/api/v1/${kind}`, { token, json: [] })).status).toBe(200)
  })

  test.each(['vehicles', 'scores', 'vehicles/V1'])('every role may GET %s', async (address) => {
    await ask('POST', '/api/v1/vehicles', { token: tokens.owner, json: [VEHICLE] })
    for (const token of Object.values(tokens))
      expect((await ask('GET', `/api/v1/${address}`, { token })).status).toBe(200)
  })
})

describe('what is not there', () => {
  const { owner: token } = tokens

  test.each(['/api', '/api/v1', '/api/v1/wheels', '/api/v2/vehicles'])('404 for %s', async (address) => {
    for (const method of ['GET', 'POST', 'PUT', 'PATCH', 'DELETE'])
      expect((await problemOf(method, address, { token })).status).toBe(404)
  })

  test('404 for a vehicle that is nobody’s, or another organisation’s', async () => {
    const theirs = { ...VEHICLE, unit: 'T1' }
    const { owner } = other.tokens
    expect((await ask('POST', '/api/v1/vehicles', { token: owner, json: [theirs] })).status).toBe(200)
    for (const unit of ['T1', 'T2', '%00', '..', 'a%2Fb']) {
      expect((await problemOf('GET', `/api/v1/vehicles/${unit}`, { token })).status, unit).toBe(404)
      expect((await problemOf('GET', `/api/v1/vehicles/${unit}/records`, { token })).status, unit).toBe(404)
    }
    expect((await ask('GET', '/api/v1/vehicles/T1', { token: owner })).json()).toMatchObject(theirs)
    expect((await ask('GET', '/api/v1/scores?unit=T1', { token })).json()).toEqual({ items: [], next: null })
  })

  test('404 for a library before the first', async () => {
    expect((await problemOf('GET', '/api/v1/library', { token })).status).toBe(404)
  })

  test.each([
    ['DELETE', 'vehicles', 'GET, HEAD, POST, OPTIONS'],
    ['GET', 'readings', 'POST, OPTIONS'],
    ['POST', 'scores', 'GET, HEAD, OPTIONS'],
    ['PATCH', 'library', 'GET, HEAD, PUT, OPTIONS'],
    ['PUT', 'vehicles/V1', 'GET, HEAD, OPTIONS'],
  ])('405 for %s %s', async (method, address, allowed) => {
    const { status, headers } = await problemOf(method, `/api/v1/${address}`, { token })
    expect([status, headers.get('Allow')]).toEqual([405, allowed])
  })
})

test('OPTIONS tells the methods of an address to everybody, and of none where there is nothing', async () => {
  for (const [address, allowed] of [
    ['/api/v1/vehicles', 'GET, HEAD, POST, OPTIONS'],
    ['/api/v1/vehicles/V1', 'GET, HEAD, OPTIONS'],
    ['/api/openapi.json', 'GET, HEAD, OPTIONS'],
  ] as const) {
    const { status, headers, text } = await ask('OPTIONS', address)
    expect([status, headers.get('Allow'), text], address).toEqual([204, allowed, ''])
  }
  expect((await problemOf('OPTIONS', '/api/v1/wheels', {})).status).toBe(404)
})

describe('bodies that are not taken', () => {
  const { owner: token } = tokens
  const post = (asked: Asked, kind = 'readings') => problemOf('POST', `/api/v1/${kind}`, { token, ...asked })
  const typed = (type: string, body: BodyInit = '[]', more = {}) => ({
    body,
    headers: { 'Content-Type': type, ...more },
  })

  test.each([
    typed('text/plain'),
    typed('application/xml'),
    typed('application/json; charset=utf-16'),
    typed('text/csv; charset=latin1'),
    typed('application/json', '[]', { 'Content-Encoding': 'gzip' }),
    { body: new Uint8Array([91, 93]) },
  ])('415 for %j', async (asked) => expect((await post(asked)).status).toBe(415))

  test('415 for a library as CSV', async () => {
    const { status } = await problemOf('PUT', '/api/v1/library', { token, ...typed('text/csv') })
    expect(status).toBe(415)
  })

  test.each(['', '[', '{}', 'null', '7', '"x"', '[1,]', '{"unit":"V1"}'])('422 for %s', async (body) =>
    expect(await post(typed('application/json', body))).toMatchObject({ status: 422, type: 'invalid' }),
  )

  test('422 for bytes that are not UTF-8', async () => {
    const body = new Uint8Array([91, 34, 255, 34, 93])
    expect((await post(typed('application/json', body))).detail).toContain('not UTF-8')
  })

  test.each(['', 'wheels,doors\n4,2\n', '\0\0\0'])('422 for a file without our columns: %j', async (body) =>
    expect(await post(typed('text/csv', body))).toMatchObject({ status: 422, type: 'invalid' }),
  )

  test('413 for 10,001 objects, and nothing of them is taken; 10,000 are', async () => {
    const objects = Array.from({ length: 10_001 }, (_, i) => ({ ...VEHICLE, unit: `M${i}` }))
    expect(await post({ json: objects }, 'vehicles')).toMatchObject({ status: 413, type: 'too-large' })
    expect((await ask('GET', '/api/v1/vehicles/M0', { token })).status).toBe(404)
    const answer = await ask('POST', '/api/v1/vehicles', { token, json: objects.slice(1) })
    expect(answer.json()).toEqual({ accepted: 10_000, unchanged: 0, rejected: [] })
  })

  test('413 for a body that says, or turns out, to be larger than 64 MB', async () => {
    const said = typed('application/json', '[]', { 'Content-Length': String(65 * 1024 * 1024) })
    expect((await post(said)).status).toBe(413)
    const large = new Uint8Array(65 * 1024 * 1024).fill(32)
    expect((await post(typed('application/json', large))).status).toBe(413)
  })
})

describe('questions that are not understood: 422', () => {
  test.each([
    ['scores?horizon_days=91', /30, 90, 180, 365; any other needs a unit/],
    ['scores?horizon_days=0', /above 0/],
    ['scores?horizon_days=x', /number/],
    ['scores?sort=price', /sort/],
    ['scores?limit=0', /limit/],
    ['scores?limit=10001', /limit/],
    ['scores?advice=now', /advice/],
    ['scores?after=x', /after/],
    ['scores?after=WyJ1bml0Il0', /after/],
    ['scores?horizn_days=90', /did you mean "horizon_days"/],
    ['scores?unit=a&unit=b', /twice/],
    ['scores?unit=%00', /NUL/],
    ['vehicles?limit=1.5', /limit/],
    ['vehicles?status=new', /status/],
    ['vehicles/V1/records?state=old', /state/],
    ['vehicles/V1/records?after=WyJ4Il0', /after/],
  ])('%s', async (address, detail) => {
    const problem = await problemOf('GET', `/api/v1/${address}`, { token: tokens.reader })
    expect(problem).toMatchObject({ status: 422, type: 'invalid', detail: expect.stringMatching(detail) })
  })
})

describe('a library', () => {
  const put = (library: unknown) =>
    ask('PUT', '/api/v1/library', { token: other.tokens.planner, json: library })
  const [family] = EXAMPLE_LIBRARY.families
  const withFamily = (changes: object) => ({ ...EXAMPLE_LIBRARY, families: [{ ...family, ...changes }] })
  const dropped = async (library: unknown) => {
    const answer = await put(library)
    expect([answer.status, answer.json().type]).toEqual([409, '/api/problems/keys-in-use'])
    return answer.json().detail
  }

  test('is put as a new version, and read as it was written', async () => {
    expect((await put(EXAMPLE_LIBRARY)).json()).toEqual({ version: 1 })
    expect((await put(EXAMPLE_LIBRARY)).json()).toEqual({ version: 2 })
    const { status, text } = await ask('GET', '/api/v1/library', { token: other.tokens.reader })
    expect([status, text]).toEqual([200, JSON.stringify(EXAMPLE_LIBRARY)])
  })

  test('that is not valid is 422 with every error and its place, and changes nothing', async () => {
    const answer = await put(withFamily({ cylinders: 'four', wheels: 4 }))
    expect(answer.json()).toMatchObject({ status: 422, type: '/api/problems/invalid' })
    expect(answer.json().errors).toHaveLength(2)
    expect((await put(EXAMPLE_LIBRARY)).json()).toEqual({ version: 3 })
    expect((await put([])).status).toBe(422)
    expect((await put(null)).status).toBe(422)
  })

  test('in another currency than the organisation is 422', async () => {
    const { tokens } = await organisation('in pounds', { currency: 'GBP' })
    const json = { ...EXAMPLE_LIBRARY, currency: 'EUR' }
    expect((await ask('PUT', '/api/v1/library', { token: tokens.owner, json })).status).toBe(422)
  })

  test('that drops a key with records is 409, unless it stays as retired', async () => {
    const { planner: token } = other.tokens
    const post = (kind: string, row: object) => ask('POST', `/api/v1/${kind}`, { token, json: [row] })
    await put(EXAMPLE_LIBRARY)
    await post('vehicles', { ...VEHICLE, variant: 'early' })
    const repair = {
      unit: 'V1',
      done_on: '2026-05-01',
      weak_point: 'injector',
      action: 'renew',
      positions: 1,
    }
    await post('repairs', { ...repair, revision: 'mk2' })
    await post('checks', { unit: 'V1', checked_on: '2026-05-01', kind: 'visual', seen: 'oil-seep' })

    const [injector, ...otherPoints] = family?.weakPoints ?? []
    const [misfire, seep] = family?.signs ?? []
    expect(await dropped({ ...EXAMPLE_LIBRARY, families: [] })).toContain('family plover-22')
    const plain = family?.weakPoints.map(({ variants: _, ...point }) => point)
    expect(await dropped(withFamily({ variants: [], weakPoints: plain }))).toContain('variant early')
    expect(await dropped(withFamily({ signs: [misfire] }))).toContain('sign oil-seep')
    expect(await dropped(withFamily({ weakPoints: otherPoints, signs: [seep] }))).toContain(
      'weakPoint injector',
    )
    const bare = { ...injector, revisions: [] }
    expect(await dropped(withFamily({ weakPoints: [bare, ...otherPoints] }))).toContain('revision mk2')

    const retired = { ...injector, retired: true }
    const kept = withFamily({
      weakPoints: [retired, ...otherPoints],
      signs: [misfire, { ...seep, retired: true }],
    })
    expect((await put(kept)).status).toBe(200)
    expect((await put(withFamily({ signs: [seep] }))).status).toBe(200) // nobody names that sign
    expect((await ask('GET', '/api/v1/scores', { token })).status).toBe(200)
  })
})

test('429 once a token has made its requests of a minute, and says when to go on', async () => {
  const { tokens } = await organisation('eager')
  const { MOST_REQUESTS } = await import('@/app/api/rate-limit')
  expect(MOST_REQUESTS).toBeGreaterThanOrEqual(6000)
  const { countRequest } = await import('@/app/api/rate-limit')
  const now = new Date('2026-06-01T00:00:00Z')
  const after = (ms: number) => new Date(now.getTime() + ms)
  for (let i = 1; i < MOST_REQUESTS; i++) countRequest('one', now)
  expect(countRequest('one', after(59_000)).RateLimit).toBe('"token";r=0;t=1')
  expect(() => countRequest('one', after(59_999))).toThrow(/within a minute/)
  expect(countRequest('other', after(59_999)).RateLimit).toBe(`"token";r=${MOST_REQUESTS - 1};t=60`)
  expect(countRequest('one', after(60_000)).RateLimit).toBe(`"token";r=${MOST_REQUESTS - 1};t=60`)
  const { headers } = await ask('GET', '/api/v1/vehicles', { token: tokens.reader })
  expect(headers.get('RateLimit')).toMatch(/^"token";r=\d+;t=\d+$/)
  expect(headers.get('RateLimit-Policy')).toBe(`"token";q=${MOST_REQUESTS};w=60`)
})
