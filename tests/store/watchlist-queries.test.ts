import fc from 'fast-check'
import { beforeAll, describe, expect, test } from 'vitest'
import { ADVICE, type Advice } from '@/lib/decisions/advice'
import type { OrganisationId } from '@/lib/store/organisation-id'
import {
  countWatchlist,
  readWatchlist,
  readWatchlistStart,
  type WhatChanged,
} from '@/lib/store/read/watchlist'
import {
  BARE_QUERY,
  CHANGES,
  type SortKey,
  VEHICLE_STATUSES,
  WATCHLIST_COLUMNS,
  WATCHLIST_MARKS,
  type WatchlistQuery,
} from '@/lib/store/read/watchlist-query'
import { readWhatChanged } from '@/lib/store/read/what-changed'
import { STANDINGS } from '@/lib/store/standing'
import { withOrganisation } from '@/lib/store/with-organisation'
import { putLibrary } from '@/lib/store/write/put-library'
import { runs } from '../runs'
import { anOrganisation, NOW } from './example-records'
import { EXAMPLE_LIBRARY } from './example-scores'
import { runSql, testDatabase } from './test-database'
import { leadingOf, type OracleRow, watchlistByHand } from './watchlist-oracle'

const { database, adminUrl } = await testDatabase()
let organisation: OrganisationId

const AS_OF = 20_513
const SINCE = AS_OF - 7
const HORIZON = 90

type Component = {
  weakPoint: string
  position: number
  advice: Advice
  pFail: number
  costOfWaiting: number
  speaks: string
  /** What was said a week ago; null where nothing else was. */
  was: { advice: Advice; pFail: number } | null
}

const maybe = <Value>(value: fc.Arbitrary<Value>) => fc.option(value, { nil: null })
const pick = <Value>(...values: Value[]) => fc.constantFrom(...values)
const chance = fc.integer({ min: 0, max: 20 }).map((n) => n / 20)

const component = (weakPoint: string, position: number): fc.Arbitrary<Component> =>
  fc.record({
    weakPoint: fc.constant(weakPoint),
    position: fc.constant(position),
    advice: pick(...ADVICE),
    pFail: chance,
    costOfWaiting: fc.integer({ min: -3, max: 3 }),
    speaks: pick('misfire on 3', 'mileage alone', '100 % worn', 'a_b'),
    was: maybe(fc.record({ advice: pick(...ADVICE), pFail: chance })),
  })

const vehicle = fc.record({
  unit: fc.oneof(
    fc.integer({ min: 1, max: 120 }).map((n) => `V-${n}`),
    fc.integer({ min: 1, max: 9 }).map((n) => `v-0${n}x${n + 7}`),
  ),
  plate: maybe(pick('AB 12', 'CD 34')),
  site: maybe(pick('Mill Yard', 'mill yard', 'Ökö Hof', 'Quay, north')),
  customer: maybe(pick('Reed', 'Sedge')),
  contact: maybe(pick('1', '2')),
  status: pick(...VEHICLE_STATUSES),
  history: pick('full', 'none'),
  value: maybe(pick(1000, 2000)),
  askingPrice: maybe(pick(1500.5, 2500)),
  acquiredOn: maybe(pick(AS_OF - 12, AS_OF - 40)),
  setAside: maybe(pick(0, 640, 800)),
  familyKey: pick('plover-16', 'heron-9'),
  combined: chance,
  stale: fc.boolean(),
  odometerKm: maybe(pick(1000, 2000, 3000)),
  odometerReadOn: maybe(pick(AS_OF, AS_OF - 90, AS_OF - 91)),
  lastFullScanOn: maybe(pick(AS_OF - 1, AS_OF - 100)),
  lastLookedAtOn: maybe(pick(AS_OF - 1, AS_OF - 100)),
  components: fc.tuple(component('injector', 1), component('injector', 2), component('pump', 1)),
})
const [FLEET] = fc.sample(
  fc.uniqueArray(vehicle, { selector: ({ unit }) => unit, minLength: 60, maxLength: 60 }),
  {
    numRuns: 1,
    seed: 3,
  },
)

const NAMES: Record<string, { name: string; place: 'cylinder' | 'position' | null }> = {
  injector: { name: 'Injector', place: 'cylinder' },
  pump: { name: 'Coolant pump', place: null },
}

function changeOf({ weakPoint, position, advice, pFail, was }: Component): WhatChanged | null {
  if (was === null) return null
  const risen = pFail >= 1.5 * was.pFail && pFail - was.pFail >= 0.01
  const kind = was.advice === advice ? (risen ? 'risen' : null) : advice === 'stop' ? 'stop' : 'advice'
  return (
    kind && {
      kind,
      weakPoint: NAMES[weakPoint]!.name,
      place: NAMES[weakPoint]!.place,
      position,
      wasAdvice: was.advice,
      wasPFail: was.pFail,
      advice,
      pFail,
    }
  )
}

/** Every row that there can be, of either kind, made by hand. */
function allRows(per: WatchlistQuery['per'], since: boolean): OracleRow[] {
  return FLEET!.flatMap(({ components, familyKey, acquiredOn, setAside, ...own }) => {
    const known = familyKey === 'plover-16'
    const changes = since && known ? components.flatMap((each) => changeOf(each) ?? []) : []
    const rows = !known ? [undefined] : per === 'vehicle' ? [leadingOf(components)] : components
    return (known || per === 'vehicle' ? rows : []).map((row): OracleRow => {
      const named = row ? NAMES[row.weakPoint]! : { name: null, place: null }
      return {
        ...own,
        history: own.history as 'full' | 'none',
        daysInStock: own.status === 'stock' && acquiredOn !== null ? AS_OF - acquiredOn : null,
        aside: setAside === null ? null : { amount: setAside, p50: 0, p95: 2 * setAside },
        family: known ? 'Plover 1.6' : 'heron-9',
        familyKey,
        asOf: AS_OF,
        odometerEstimated: true,
        weakPointsCovered: 2,
        stale: own.stale,
        combined: known ? own.combined : null,
        standing: row?.advice ?? 'not-assessed',
        weakPointKey: row?.weakPoint ?? null,
        weakPoint: named.name,
        place: named.place,
        position: row?.position ?? null,
        pFail: row?.pFail ?? null,
        pLow: row?.pFail ?? null,
        pHigh: row?.pFail ?? null,
        costOfWaiting: row?.costOfWaiting ?? null,
        speaks: row?.speaks ?? null,
        changed:
          per === 'vehicle'
            ? worst(changes)
            : (changes.find((each) => each.weakPoint === named.name && each.position === row?.position) ??
              null),
      }
    })
  })
}

/** Of several changes of a vehicle, the one that its row tells. */
function worst(changes: WhatChanged[]): WhatChanged | null {
  const rank = ({ kind, advice, pFail }: WhatChanged) =>
    CHANGES.indexOf(kind) * 1000 + ADVICE.indexOf(advice) * 10 - pFail
  const keyOf = (each: WhatChanged) => (each.weakPoint === 'Injector' ? each.position : 9)
  return changes.toSorted((a, b) => rank(a) - rank(b) || keyOf(a) - keyOf(b))[0] ?? null
}

/** The fleet in the store, written past everything of ours but the tables. */
async function store(): Promise<void> {
  const json = JSON.stringify(FLEET!.map((each, n) => ({ ...each, n }))).replaceAll("'", "''")
  const name = `case when family = 'plover-16' then 'Plover 1.6' else family end`
  await runSql(
    adminUrl,
    `create temp table fleet as select * from jsonb_to_recordset('${json}') as f(n int, unit text, plate text, site text,
       customer text, contact text, status text, history text, value float8, "askingPrice" float8, "acquiredOn" int, "setAside" float8, "familyKey" text,
       combined float8, stale boolean, "odometerKm" float8, "odometerReadOn" int, "lastFullScanOn" int, "lastLookedAtOn" int, components jsonb);
     insert into vehicles (organisation_id, id, unit, plate, site, customer, contact, status, history, value, asking_price,
       acquired_on, family, duty, entered_at, notes, line)
     select '${organisation}', gen_random_uuid(), unit, plate, site, customer, contact, status, history, value, "askingPrice",
       date '1970-01-01' + "acquiredOn", "familyKey", 'mixed', now(), '{}', n from fleet;
     insert into stock_amounts (organisation_id, vehicle_id, basis, made_at, family, amount, p50, p95)
     select '${organisation}', vehicles.id, '', now(), family, "setAside", 0, 2 * "setAside"
     from fleet join vehicles using (unit) where vehicles.organisation_id = '${organisation}';
     create temp table parts as select vehicles.id, c.*, c.was is not null as moved
       from fleet join vehicles using (unit), jsonb_to_recordset(components) as c("weakPoint" text, position int, advice text,
         "pFail" float8, "costOfWaiting" float8, speaks text, was jsonb)
       where vehicles.organisation_id = '${organisation}' and family = 'plover-16';
     create temp table leader as select distinct on (id) * from parts
       order by id, array_position(array['stop','book','check','watch','fine'], advice), "pFail" desc, "weakPoint", position;
     insert into vehicle_scores (organisation_id, vehicle_id, horizon_days, as_of, library_version, scored_at, records_version, assessed,
       family_name, odometer_km, odometer_read_on, odometer_estimated, standing, combined, advice, last_full_scan_on,
       last_looked_at_on, weak_points_covered, leading_weak_point, leading_name, leading_position, leading_place, p_fail,
       p_low, p_high, cost_of_waiting, speaks)
     select '${organisation}', vehicles.id, ${HORIZON}, date '1970-01-01' + ${AS_OF}, 1, now(), records_version - stale::int, leader.id is not null, ${name},
       "odometerKm", date '1970-01-01' + "odometerReadOn", true, false,
       case when leader.id is not null then combined end, coalesce(leader.advice, 'fine'),
       date '1970-01-01' + "lastFullScanOn", date '1970-01-01' + "lastLookedAtOn", 2, leader."weakPoint",
       case leader."weakPoint" when 'injector' then 'Injector' when 'pump' then 'Coolant pump' end, leader.position,
       case leader."weakPoint" when 'injector' then 'cylinder' end, "pFail", "pFail", "pFail", "costOfWaiting", speaks
     from fleet join vehicles using (unit) left join leader on leader.id = vehicles.id
     where vehicles.organisation_id = '${organisation}';
     insert into component_scores (organisation_id, vehicle_id, weak_point, position, horizon_days, as_of, library_version,
       p_fail, p_low, p_high, p_developing, cost_of_waiting, advice, speaks)
     select '${organisation}', id, "weakPoint", position, ${HORIZON}, date '1970-01-01' + ${AS_OF}, 1, "pFail", "pFail", "pFail",
       0.1, "costOfWaiting", advice, speaks from parts;
     insert into score_history (organisation_id, vehicle_id, weak_point, position, horizon_days, as_of, scored_at, p_fail, p_low,
       p_high, advice, library_version)
     select '${organisation}', id, "weakPoint", position, ${HORIZON}, date '1970-01-01' + day, timestamptz '2026-01-01' + day * interval '1 day',
       case when day > ${SINCE} or not moved then "pFail" else (was->>'pFail')::float8 end, 0, 1,
       case when day > ${SINCE} or not moved then advice else was->>'advice' end, 1
     from parts, unnest(array[${SINCE - 20}, ${SINCE}, ${AS_OF - 1}]) day where moved or day = ${SINCE - 20}`,
  )
}

beforeAll(async () => {
  organisation = await anOrganisation(database, 'queries')
  await withOrganisation(
    database,
    organisation,
    (scope) => putLibrary(scope, { content: JSON.stringify(EXAMPLE_LIBRARY), now: NOW }),
    'write',
  )
  await store()
})

const some = <Word>(words: readonly Word[]): fc.Arbitrary<Word[]> =>
  fc.oneof(
    { weight: 3, arbitrary: fc.constant<Word[]>([]) },
    { weight: 1, arbitrary: fc.uniqueArray(fc.constantFrom(...words), { maxLength: 3 }) },
  )
const sort: fc.Arbitrary<SortKey[]> = fc.uniqueArray(
  fc.record({ column: pick(...WATCHLIST_COLUMNS), descending: fc.boolean() }),
  { minLength: 1, maxLength: 2, selector: ({ column }) => column },
)
const anyQuery: fc.Arbitrary<WatchlistQuery> = fc.record({
  per: pick('vehicle', 'weak-point'),
  horizonDays: fc.constant(HORIZON),
  sort,
  search: pick(
    '',
    '',
    '',
    'v-1',
    'MISFIRE plover',
    'ökö',
    '%',
    'a_b',
    '_',
    'reed 100',
    'ab 12',
    "' or true --",
  ),
  standings: some(STANDINGS),
  families: some(['plover-16', 'heron-9', 'none']),
  sites: some(['Mill Yard', 'mill yard', 'Ökö Hof', 'Quay, north']),
  customers: some(['Reed', 'Sedge']),
  weakPoints: some(['Injector', 'Coolant pump']),
  statuses: some(VEHICLE_STATUSES),
  marks: some(WATCHLIST_MARKS),
  changes: fc.constant<WatchlistQuery['changes']>([]),
  since: pick(null, SINCE),
  units: some(FLEET!.slice(0, 9).map(({ unit }) => unit)),
})

const RUNS = runs(60)

async function answer(query: WatchlistQuery, window?: { from: number; count: number }) {
  return withOrganisation(database, organisation, async (scope) => ({
    rows: await readWatchlist(scope, query, window),
    count: await countWatchlist(scope, query),
  }))
}

const shown = (rows: OracleRow[]) => rows.map(({ familyKey: _, weakPointKey: __, ...row }) => row)

describe('whatever is asked', () => {
  test('the store answers as looking at each row does: filters, sorts, ties, unknown last', async () => {
    await fc.assert(
      fc.asyncProperty(anyQuery, async (query) => {
        const expected = watchlistByHand(allRows(query.per, query.since !== null), query)
        const { rows, count } = await answer(query)
        expect(rows).toEqual(shown(expected))
        expect(count).toBe(expected.length)
      }),
      { numRuns: RUNS },
    )
  })

  test('a part of the rows is that part of them, in the same order', async () => {
    const window = fc.record({ from: fc.nat(70), count: fc.integer({ min: 1, max: 30 }) })
    await fc.assert(
      fc.asyncProperty(anyQuery, window, async (query, { from, count }) => {
        const expected = watchlistByHand(allRows(query.per, query.since !== null), query)
        const { rows } = await answer(query, { from, count })
        expect(rows).toEqual(shown(expected.slice(from, from + count)))
      }),
      { numRuns: RUNS / 2 },
    )
  })

  test('the start of a list is all of a short one and the first rows of a longer one, with how many there are', async () => {
    const start = fc
      .record({ orFirst: fc.integer({ min: 1, max: 30 }), more: fc.nat(40) })
      .map(({ orFirst, more }) => ({ orFirst, wholeUpTo: orFirst + more }))
    await fc.assert(
      fc.asyncProperty(anyQuery, start, async (query, { wholeUpTo, orFirst }) => {
        const expected = watchlistByHand(allRows(query.per, query.since !== null), query)
        const { rows, total } = await withOrganisation(database, organisation, (scope) =>
          readWatchlistStart(scope, query, { wholeUpTo, orFirst }),
        )
        expect(total).toBe(expected.length)
        expect(rows).toEqual(shown(expected.length <= wholeUpTo ? expected : expected.slice(0, orFirst)))
      }),
      { numRuns: RUNS / 2 },
    )
  })
})

describe('what changed since a day', () => {
  test('counts each vehicle by everything that became of it, and filters by the same', async () => {
    const expected = (kind: (typeof CHANGES)[number]) =>
      FLEET!
        .filter(
          ({ familyKey, components }) =>
            familyKey === 'plover-16' &&
            components.some(({ was, advice, pFail }) => {
              if (was === null) return false
              if (kind === 'risen') return pFail >= 1.5 * was.pFail && pFail - was.pFail >= 0.01
              return was.advice !== advice && (kind === 'advice' || advice === 'stop')
            }),
        )
        .map(({ unit }) => unit)
    const { vehicles, keptFrom } = await withOrganisation(database, organisation, (scope) =>
      readWhatChanged(scope, HORIZON, SINCE),
    )
    expect(keptFrom).toBe(SINCE - 20)
    for (const change of CHANGES) {
      expect(vehicles[change], change).toBe(expected(change).length)
      expect(vehicles[change]).toBeGreaterThan(0)
      const { rows } = await answer({ ...BARE_QUERY, since: SINCE, changes: [change] })
      expect(rows.map(({ unit }) => unit).toSorted()).toEqual(expected(change).toSorted())
    }
  })

  test('nothing has changed since a day on which the scores were what they are', async () => {
    const changes = await withOrganisation(database, organisation, (scope) =>
      readWhatChanged(scope, HORIZON, AS_OF),
    )
    expect(changes.vehicles).toEqual({ stop: 0, advice: 0, risen: 0 })
  })
})

test('what a vehicle says of itself is on its row at once, before it is scored again', async () => {
  const { unit } = FLEET![0]!
  await runSql(adminUrl, `update vehicles set site = 'Nowhere else' where unit = '${unit}'`)
  const { rows } = await answer({ ...BARE_QUERY, search: 'nowhere', sites: ['Nowhere else'] })
  expect(rows.map((row) => [row.unit, row.site])).toEqual([[unit, 'Nowhere else']])
})
