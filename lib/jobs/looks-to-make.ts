import type { LookKind } from '@/lib/decisions/advice'
import { looksWithin, type WalkRound, walkRounds } from '@/lib/decisions/look-round'
import {
  type LookedAtVehicle,
  readLookedAt,
  readLooksWorthMaking,
  readUnscanned,
  type UnscannedVehicle,
  type VehicleLooks,
} from '@/lib/store/read/looks'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import type { Day } from '@/lib/units/dates'

/** A look worth making: one kind of look at one vehicle. */
export type LookToMake = LookedAtVehicle & VehicleLooks['looks'][number]

export const LOOK_SORTS = ['worth', 'unit', 'kind', 'hours', 'site', 'scan'] as const
export const UNSCANNED_SORTS = ['going', 'scan', 'unit', 'site'] as const
export type LookSort = { by: (typeof LOOK_SORTS)[number]; descending: boolean }
export type UnscannedSort = { by: (typeof UNSCANNED_SORTS)[number]; descending: boolean }

export type LooksAsked = {
  /** None: all of them. */
  sites: string[]
  kinds: LookKind[]
  /** Hours that there are for looking; null: all that is worth it. */
  hours: number | null
  sort: LookSort
  /** A scan longer ago than so many days is long ago. */
  days: number
  unscannedSort: UnscannedSort
}

export type LooksToMake = {
  asOf: Day | null
  assessed: number
  neverLookedAt: number
  /** What there is to choose from: sites that have such a look. */
  sites: string[]
  /** Of those that were asked for; with hours, those to make first, within them. */
  looks: LookToMake[]
  hours: number
  worth: number
  /** How many there are whatever the hours. */
  inAll: number
  rounds: WalkRound<LookToMake>[]
  /** Drives that would be worth it if the vehicle could be driven. */
  notDriven: number
  unscanned: { vehicles: UnscannedVehicle[]; total: number }
}

/** So many vehicles without a scan are told; the rest is counted. */
const MOST_UNSCANNED = 50

/** Which vehicles to look at next, and at what: from what was kept with the scores. */
export async function looksToMake(scope: OrganisationScope, asked: LooksAsked): Promise<LooksToMake> {
  const { sites, kinds, hours, sort, days, unscannedSort } = asked
  const all = (await readLooksWorthMaking(scope)).flatMap(({ looks, ...vehicle }) =>
    looks.map((look): LookToMake => ({ ...vehicle, ...look })),
  )
  const possible = all.filter(mayBeMade)
  const wanted = possible.filter(
    ({ site, kind }) =>
      (sites.length === 0 || (site !== null && sites.includes(site))) &&
      (kinds.length === 0 || kinds.includes(kind)),
  )
  const chosen = looksWithin(wanted, hours ?? Number.POSITIVE_INFINITY)
  const { by, descending } = unscannedSort
  return {
    ...(await readLookedAt(scope)),
    sites: [...new Set(possible.flatMap(({ site }) => site ?? []))].sort(),
    looks: sorted(chosen.looks, sort),
    ...{ hours: chosen.hours, worth: chosen.worth, inAll: wanted.length },
    rounds: walkRounds(chosen.looks),
    notDriven: all.length - possible.length,
    unscanned: await readUnscanned(scope, { days, sites, sort: by, descending, limit: MOST_UNSCANNED }),
  }
}

/** What must not be driven is not looked at on the road. */
const mayBeMade = ({ kind, standing }: LookToMake) => kind !== 'road' || standing !== 'stop'

/** Never scanned is longest ago; what has no site comes last. */
const KEYS: Record<LookSort['by'], (look: LookToMake) => number | string> = {
  worth: ({ worth }) => worth,
  hours: ({ hours }) => hours,
  kind: ({ kind }) => kind,
  site: ({ site }) => site ?? '\uffff',
  scan: ({ asOf, lastFullScanOn }) =>
    lastFullScanOn === null ? Number.POSITIVE_INFINITY : asOf - lastFullScanOn,
  unit: () => 0,
}

function sorted(looks: readonly LookToMake[], { by, descending }: LookSort): LookToMake[] {
  const natural = new Intl.Collator('en', { numeric: true })
  const key = KEYS[by]
  const inOrder = (a: LookToMake, b: LookToMake) => {
    if (by === 'unit') return natural.compare(a.unit, b.unit)
    const [ofA, ofB] = [key(a), key(b)]
    return ofA === ofB ? 0 : ofA < ofB ? -1 : 1
  }
  return [...looks].sort(
    (a, b) => (descending ? inOrder(b, a) : inOrder(a, b)) || natural.compare(a.unit, b.unit),
  )
}
