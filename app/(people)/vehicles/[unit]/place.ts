import { ENTRY_KINDS, type EntryKind } from '@/lib/intake/typed-form'
import type { Visiting } from '@/lib/jobs/next-visit'
import { readTypedNumber } from '@/lib/records/typed-number'

/** The forms of the vehicle itself: what it is, whether it is there, whose it is. */
export const VEHICLE_FORMS = ['facts', 'status', 'owner'] as const
export type VehicleForm = (typeof VEHICLE_FORMS)[number]

type SearchParameters = Record<string, string | string[] | undefined>

/** Where on the vehicle's page: which weak point is open, which form, and which record is being corrected. */
export type Place = {
  /** A component as `key@position`. */
  open: string | null
  enter: EntryKind | VehicleForm | null
  weakPoint: string | null
  /** A record as `kind:id`. */
  correct: string | null
  /** Every record is in sight, and not only the latest. */
  records: 'all' | null
  /** What each record does to the chance of the weak point that is open. */
  why: 'records' | null
  /** It is here now for another reason. */
  here: 'yes' | null
  /** With so many hours free, as typed. */
  hours: string | null
  /** With so many of each part on the shelf, as typed. */
  shelf: Record<string, string> | null
}

/** How it is here now, as typed. */
export type Coming = Pick<Place, 'here' | 'hours' | 'shelf'>

/** The parameter that says how many of a part are on the shelf: this, and the part. */
export const ON_SHELF = 'shelf.'

export function placeIn(parameters: SearchParameters): Place {
  const one = (name: string) => [parameters[name] ?? []].flat()[0] ?? null
  const enter = one('enter')
  return {
    open: one('open'),
    enter: [...ENTRY_KINDS, ...VEHICLE_FORMS].find((kind) => kind === enter) ?? null,
    weakPoint: one('weak-point'),
    correct: one('correct'),
    records: one('records') === 'all' ? 'all' : null,
    why: one('why') === 'records' ? 'records' : null,
    here: one('here') === 'yes' ? 'yes' : null,
    hours: one('hours'),
    shelf: shelfIn(parameters),
  }
}

/** How many of each part are there, as typed; null where nobody has said anything. */
function shelfIn(parameters: SearchParameters): Place['shelf'] {
  const typed = Object.entries(parameters).flatMap(([name, value]) => {
    const said = name.startsWith(ON_SHELF) ? [value ?? []].flat()[0]?.trim() : undefined
    return said ? [[name.slice(ON_SHELF.length), said]] : []
  })
  return typed.length === 0 ? null : Object.fromEntries(typed)
}

/** How the vehicle comes; hours and counts that are no numbers are none that were said. */
export function visitingAt({ here, hours, shelf }: Coming): Visiting {
  if (here !== 'yes') return { hereNow: false, hoursFree: null }
  const counted = Object.entries(shelf ?? {}).flatMap(([part, typed]) => {
    const count = readTypedNumber(typed)
    return count !== null && count >= 0 ? [[part, Math.floor(count)] as const] : []
  })
  return { hereNow: true, hoursFree: readTypedNumber(hours ?? ''), onShelf: new Map(counted) }
}

/** The address of a place on the page at `page`, which may have parameters already. */
export function addressOfPlace(
  page: string,
  { weakPoint, shelf, ...place }: Partial<Place>,
  id = '',
): string {
  const given = { ...place, 'weak-point': weakPoint }
  const query = new URLSearchParams([
    ...Object.entries(given).flatMap(([name, value]) => (value ? [[name, value]] : [])),
    ...Object.entries(shelf ?? {}).map(([part, count]) => [`${ON_SHELF}${part}`, count]),
  ])
  const joint = page.includes('?') ? '&' : '?'
  return `${page}${query.size > 0 ? `${joint}${query}` : ''}${id && `#${id}`}`
}

/** The job card of a visit on the plan, as it was planned. */
export const plannedCardAddress = (unit: string, visit: string): string =>
  `/vehicles/${encodeURIComponent(unit)}/job-card?visit=${encodeURIComponent(visit)}`

/** The id of the visit on the plan that an address asks for; null where it asks for none. */
export const plannedIn = (parameters: SearchParameters): string | null =>
  [parameters.visit ?? []].flat()[0] ?? null

/** A component as the address names it. */
export const keyOf = ({ weakPoint, position }: { weakPoint: string; position: number }) =>
  `${weakPoint}@${position}`
