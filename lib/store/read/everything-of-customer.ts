import { wordsOf } from '../customer-words'
import type { OrganisationScope } from '../with-organisation'
import { type Customer, readCustomer } from './customer'
import { type FileTrace, readFileTraces, readTraces, type Trace, withoutSecrets } from './customer-traces'
import { readTerms } from './terms'

/** Everything that is known of a customer, to be handed to them: names of rows are those of the database. */
export type EverythingOfCustomer = {
  format: 'gudgeon-customer/1'
  takenOutAt: string
  customer: Omit<Customer, 'vehicles'>
  vehicles: (Customer['vehicles'][number] & { rows: Trace[] })[]
  /** Every other row in which a word stands that leads to them. */
  rows: Trace[]
  files: FileTrace[]
}

/** What hangs on a vehicle, and when each row came: of a vehicle that has another owner since, what came before. */
const OF_VEHICLE: Record<string, string> = {
  readings: 'entered_at',
  codes: 'entered_at',
  checks: 'entered_at',
  repairs: 'entered_at',
  changes: 'entered_at',
  proposals: 'made_at',
  stop_notices: 'raised_at',
  photographs: 'entered_at',
  letters: 'written_at',
  driver_reports: 'received_at',
  plan_visits: 'made_at',
  cover_terms: 'made_at',
}

/** @returns null where no row knows them */
export async function readEverythingOf(
  scope: OrganisationScope,
  name: string,
  now: Date,
): Promise<EverythingOfCustomer | null> {
  const found = await readCustomer(scope, name)
  if (!found) return null
  const { vehicleNumber } = await readTerms(scope)
  const words = wordsOf(found, { unitsAreNames: vehicleNumber === 'plate', more: [] })
  const { vehicles, ...customer } = found
  const withRows = []
  for (const vehicle of vehicles) withRows.push({ ...vehicle, rows: await rowsOf(scope, vehicle) })
  const told = new Set(withRows.flatMap(({ rows }) => rows.map(idOf)))
  return {
    ...{ format: 'gudgeon-customer/1', takenOutAt: now.toISOString(), customer, vehicles: withRows },
    rows: (await readTraces(scope, words)).filter(
      (trace) => trace.row.id === undefined || !told.has(idOf(trace)),
    ),
    files: await readFileTraces(scope, words),
  }
}

const idOf = ({ table, row }: Trace) => `${table} ${row.id}`

async function rowsOf(
  { tx }: OrganisationScope,
  { id, until }: Customer['vehicles'][number],
): Promise<Trace[]> {
  const traces: Trace[] = []
  for (const [table, came] of Object.entries(OF_VEHICLE)) {
    const found = await tx.$queryRawUnsafe<{ row: Record<string, unknown> }[]>(
      `select ${table === 'photographs' ? "to_jsonb(of_vehicle) - 'content'" : 'to_jsonb(of_vehicle)'} as row
       from ${table} of_vehicle where vehicle_id = $1::uuid and ($2::timestamptz is null or ${came} <= $2)
       order by ${came}, id`,
      ...[id, until],
    )
    traces.push(...found.map(({ row }) => ({ table, row: withoutSecrets(row) })))
  }
  return traces
}
