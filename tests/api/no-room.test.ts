/** A disk that is full: what cannot be kept is refused whole, what is there is answered, and it goes on when there is room. */
import { expect, test } from 'vitest'
import { EXAMPLE_LIBRARY } from '../records/example-library'
import { runSql } from '../store/test-database'
import { ask, machine, rowsInStore } from './machine'

const { database, adminUrl, organisation } = await machine()
const { id, tokens } = await organisation('no room')
const { owner: token } = tokens

/** What PostgreSQL says of a file that it cannot make longer, said by a trigger of the table. */
const FULL = [
  `create function no_room() returns trigger language plpgsql as $$
   begin
     raise exception 'could not extend file "base/1": No space left on device' using errcode = 'disk_full';
   end $$`,
  'create trigger no_room before insert on readings for each row execute function no_room()',
]
const ROOM = ['drop trigger no_room on readings', 'drop function no_room()']

const reading = { unit: 'V1', read_on: '2026-06-01', odometer_km: 84_000 }
const send = () =>
  ask('POST', '/api/v1/readings', { token, json: [reading], headers: { 'Idempotency-Key': 'a-reading' } })

test('is said with status 507, nothing is kept, and the same request goes in when there is room', async () => {
  expect((await ask('PUT', '/api/v1/library', { token, json: EXAMPLE_LIBRARY })).status).toBe(200)
  const vehicle = { unit: 'V1', family: 'plover-22', in_service_on: '2020-01-01' }
  expect((await ask('POST', '/api/v1/vehicles', { token, json: [vehicle] })).status).toBe(200)
  const before = await rowsInStore(database, id)

  await runSql(adminUrl, ...FULL)
  const refused = await send()
  expect(refused.status).toBe(507)
  expect(refused.json()).toMatchObject({ type: '/api/problems/no-room', title: 'The disk is full' })
  expect(refused.text).not.toContain('base/1')
  expect(await rowsInStore(database, id)).toBe(before)
  expect((await ask('GET', '/api/v1/scores?unit=V1&horizon_days=90', { token })).status).toBe(200)

  await runSql(adminUrl, ...ROOM)
  const taken = await send()
  expect(taken.json()).toMatchObject({ accepted: 1 })
  expect(await rowsInStore(database, id)).toBe(before + 1)
})
