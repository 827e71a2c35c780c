/** What somebody would write against the description; it is compiled and run in a folder of its own. */
export const PROGRAM = `
import createClient from 'openapi-fetch'
import type { components, paths } from './api'

type Score = components['schemas']['Score']
type Json = 'application/json' | 'application/problem+json'

const { GET, POST, PUT } = createClient<paths, Json>({
  baseUrl: process.env.BASE ?? '',
  headers: { Authorization: 'Bearer ' + process.env.TOKEN },
})
const library = JSON.parse(process.env.LIBRARY ?? '')

const put = await PUT('/library', { body: library })
const version: number | undefined = put.data?.version
const vehicles = await POST('/vehicles', {
  params: { header: { 'Idempotency-Key': 'first' } },
  body: [1, 2, 3].map((n) => ({ unit: 'C' + n, family: 'plover-22', in_service_on: '2020-01-01' })),
})
const readings = await POST('/readings', {
  body: [
    { unit: 'C1', read_on: '2026-05-01', odometer_km: 120000 },
    { unit: 'C1', read_on: '2026-06-01', odometer_km: 122000 },
    { unit: 'C9', read_on: '2026-06-01', odometer_km: 1 },
  ],
})
const codes = await POST('/codes', {
  body: [{ unit: 'C1', seen_on: '2026-06-01', code: 'P0302', state: 'pending', lamp: true }],
})
const checks = await POST('/checks', {
  body: 'unit,checked_on,kind,seen\\nC1,2026-06-01,visual,oil-seep\\n',
  bodySerializer: (text) => text,
  headers: { 'Content-Type': 'text/csv' },
})
const repairs = await POST('/repairs', {
  body: [{ unit: 'C2', done_on: '2026-05-01', weak_point: 'injector', positions: [1, 2], action: 'renew' }],
})

const scores: Score[] = []
let pages = 0
for (let after: string | undefined; ; pages++) {
  const { data, error } = await GET('/scores', {
    params: { query: { horizon_days: 90, sort: '-cost_of_waiting', limit: 4, after } },
  })
  if (error) throw new Error(error.detail)
  scores.push(...data.items)
  if (data.next === null) break
  after = data.next
}

const vehicle = await GET('/vehicles/{unit}', { params: { path: { unit: 'C1' } } })
const status: 'active' | 'stock' | 'sold' | 'retired' | undefined = vehicle.data?.status
const records = await GET('/vehicles/{unit}/records', { params: { path: { unit: 'C2' } } })
const positions = records.data?.items.flatMap((item): number[] =>
  item.table === 'repairs' ? (item.positions ?? []) : [],
)
const ofFirst = await GET('/vehicles/{unit}/records', { params: { path: { unit: 'C1' } } })
const codeStates = ofFirst.data?.items.flatMap((item) => (item.table === 'codes' ? [item.code_state] : []))
const stated = await PUT('/parts', { body: [{ part: 'INJ-22', on_hand: 4 }] })
const parts = await GET('/parts')
const onHand: number | null | undefined = parts.data?.items[0]?.on_hand
const missing = await GET('/vehicles/{unit}', { params: { path: { unit: 'nobody' } } })
const dropping = await PUT('/library', { body: { ...library, families: [] } })

console.log(JSON.stringify({
  version,
  entered: [vehicles, readings, codes, checks, repairs, stated].map(({ data }) => data),
  pages,
  scores: scores.map(({ unit, weak_point, position, p_fail }) => [unit, weak_point, position, p_fail]),
  status,
  tables: ofFirst.data?.items.map(({ table }) => table),
  codeStates,
  positions,
  onHand,
  missing: [missing.response.status, missing.error?.type, missing.error?.status],
  dropped: dropping.error?.keys?.map(({ kind, key }) => [kind, key]),
}))
`

const wrong = (call: string) => `
import createClient from 'openapi-fetch'
import type { paths } from './api'
const { GET, POST } = createClient<paths, 'application/json'>({ baseUrl: '' })
${call}
`

/** Programs that the compiler has to refuse, for one wrong call each. */
export const WRONG_PROGRAMS: Record<string, string> = {
  'no-such-address.ts': wrong(`await GET('/wheels')`),
  'no-such-method.ts': wrong(`await POST('/scores', { body: [] })`),
  'column-missing.ts': wrong(`await POST('/readings', { body: [{ unit: 'C1', read_on: '2026-06-01' }] })`),
  'column-of-other-type.ts': wrong(
    `await POST('/readings', { body: [{ unit: 'C1', read_on: 20260601, odometer_km: 1 }] })`,
  ),
  'word-unknown.ts': wrong(
    `await POST('/checks', { body: [{ unit: 'C1', checked_on: '2026-06-01', kind: 'smell' }] })`,
  ),
  'sort-unknown.ts': wrong(`await GET('/scores', { params: { query: { sort: 'price' } } })`),
  'parameter-unknown.ts': wrong(`await GET('/scores', { params: { query: { horizn_days: 90 } } })`),
  'part-of-address-missing.ts': wrong(`await GET('/vehicles/{unit}')`),
  'answer-without-that.ts': wrong(`
const { data } = await GET('/vehicles/{unit}', { params: { path: { unit: 'C1' } } })
console.log(data?.wheels)`),
  'null-forgotten.ts': wrong(`
const { data } = await GET('/scores')
const km: number | undefined = data?.items[0]?.remaining_km_p50
console.log(km)`),
}
