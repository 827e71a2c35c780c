/** What a program changes stands in the audit trail as its token's. */
import { expect, test } from 'vitest'
import { readAuditLines } from '@/lib/store/read/audit-lines'
import { readTokens } from '@/lib/store/read/tokens'
import { withOrganisation } from '@/lib/store/with-organisation'
import { EXAMPLE_LIBRARY } from '../records/example-library'
import { ask, machine } from './machine'

const { database, organisation } = await machine()
const { id, tokens } = await organisation('audited')

test('a library, a vehicle and a reading that came in by a token are the token’s; asking leaves no line', async () => {
  const token = tokens.planner
  const vehicle = { unit: 'V1', family: 'plover-22', in_service_on: '2020-01-01' }
  await ask('PUT', '/api/v1/library', { token, json: EXAMPLE_LIBRARY })
  await ask('POST', '/api/v1/vehicles', { token, json: [vehicle] })
  const reading = { unit: 'V1', read_on: '2026-06-01', odometer_km: 1000 }
  const before = await ask('POST', '/api/v1/readings', { token, json: [reading] })
  expect(before.json()).toMatchObject({ accepted: 1 })
  await ask('GET', '/api/v1/scores', { token })
  const { lines, own } = await withOrganisation(database, id, async (scope) => ({
    own: (await readTokens(scope)).find(({ name }) => name === 'planner')!.id,
    ...(await readAuditLines(scope, {
      ...{ actor: null, what: null, unit: null, since: null, until: null, before: null },
      ...{ timeZone: 'UTC', most: 3 },
    })),
  }))
  expect(lines.map(({ what, actor, unit }) => ({ what, actor, unit }))).toEqual([
    { what: 'readings', actor: `token:${own}`, unit: 'V1' },
    { what: 'vehicles', actor: `token:${own}`, unit: 'V1' },
    { what: 'libraries', actor: `token:${own}`, unit: null },
  ])
})
