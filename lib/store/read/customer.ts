import { customerKey } from '@/lib/records/customer-key'
import { SHORTEST_PART } from '../inner/words-to-find'
import type { OrganisationScope } from '../with-organisation'

/** A vehicle that is or was a customer's, and the words by which it leads to them. */
export type CustomersVehicle = {
  id: string
  unit: string
  /** It is theirs now; else until this instant. */
  until: Date | null
  plates: string[]
  vins: string[]
}

/** A customer as the organisation's rows know them. */
export type Customer = {
  name: string
  key: string
  /** How their name is written in rows, and how to reach them. */
  names: string[]
  contacts: string[]
  vehicles: CustomersVehicle[]
  letters: number
  optedOut: boolean
}

type Facts = { customer: string | null; contact: string | null; plate: string | null; vin: string | null }
type Stood = Facts & { vehicle: string; unit: string; until: Date | null }

/**
 * A customer by the name that they are known under; null where no row knows them. Which vehicles are theirs follows from
 * what stands of each, and from what stood before.
 */
export async function readCustomer(scope: OrganisationScope, name: string): Promise<Customer | null> {
  const key = customerKey(name)
  const stood = (await readOwners(scope)).filter(
    ({ customer }) => customer !== null && customerKey(customer) === key,
  )
  const written = await readWritten(scope, key)
  if (stood.length === 0 && written.names.length === 0) return null
  const vehicles = new Map<string, Stood[]>()
  for (const each of stood) vehicles.set(each.vehicle, [...(vehicles.get(each.vehicle) ?? []), each])
  const others = await readPlatesOfOthers(scope, [...vehicles.keys()], key)
  const names = distinct([...stood.map(({ customer }) => customer), ...written.names])
  return {
    ...{ name: names[0] ?? name, key, names },
    contacts: distinct(stood.map(({ contact }) => contact)).flatMap(partsOf),
    vehicles: [...vehicles.values()].map((all) => vehicleOf(all, others)),
    letters: written.letters,
    optedOut: written.optedOut,
  }
}

/** A telephone number and an address in one field may stand by themselves elsewhere. */
const partsOf = (contact: string): string[] =>
  distinct([contact, ...contact.split(/[,;|\n]/).map((part) => part.trim())]).filter(
    (part) => part === contact || part.length >= SHORTEST_PART,
  )

const distinct = (texts: (string | null)[]): string[] => [
  ...new Set(texts.filter((text): text is string => text !== null && text.trim() !== '')),
]

/** What every vehicle says of its owner, and said before. */
function readOwners({ tx }: OrganisationScope): Promise<Stood[]> {
  return tx.$queryRaw<Stood[]>`
    select id::text as vehicle, unit, customer, contact, plate, vin, null::timestamptz as until from vehicles
    where customer is not null
    union all
    select version.vehicle_id::text, vehicle.unit, before ->> 'customer', before ->> 'contact', before ->> 'plate',
      before ->> 'vin', replaced_at
    from vehicle_versions version join vehicles vehicle on vehicle.id = version.vehicle_id
    where before ->> 'customer' is not null`
}

type Written = { names: string[]; letters: number; optedOut: boolean }

/** Letters to them, and that they want none: these stay when a vehicle has another owner. */
async function readWritten({ tx }: OrganisationScope, key: string): Promise<Written> {
  const [found] = await tx.$queryRaw<Written[]>`
    select array(select customer from letters where customer_key = ${key}
        union select customer from letter_opt_outs where customer_key = ${key}) as names,
      (select count(*)::int from letters where customer_key = ${key}) as letters,
      exists (select from letter_opt_outs where customer_key = ${key} and undone_at is null) as "optedOut"`
  return found ?? { names: [], letters: 0, optedOut: false }
}

/** Plates and chassis numbers that lead to somebody else today: they went with the vehicle. */
async function readPlatesOfOthers(
  { tx }: OrganisationScope,
  ids: string[],
  key: string,
): Promise<Set<string>> {
  const now = await tx.$queryRaw<Facts[]>`
    select customer, contact, plate, vin from vehicles where id = any(${ids}::uuid[])`
  const others = now.filter(({ customer }) => customer === null || customerKey(customer) !== key)
  return new Set(others.flatMap(({ plate, vin }) => [plate, vin].filter((text) => text !== null)))
}

function vehicleOf(stood: Stood[], others: ReadonlySet<string>): CustomersVehicle {
  const own = (texts: (string | null)[]) => distinct(texts).filter((text) => !others.has(text))
  const isNow = stood.some(({ until }) => until === null)
  const last = Math.max(...stood.map(({ until }) => until?.getTime() ?? 0))
  const [{ vehicle, unit }] = stood as [Stood]
  return {
    ...{ id: vehicle, unit, until: isNow ? null : new Date(last) },
    plates: own(stood.map(({ plate }) => plate)),
    vins: own(stood.map(({ vin }) => vin)),
  }
}
