import { ENTRY_KINDS, type EntryKind } from '@/lib/intake/typed-entry'
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
}

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
  }
}

/** How the vehicle comes; hours that are no number are none that were said. */
export function visitingAt({ here, hours }: Pick<Place, 'here' | 'hours'>): Visiting {
  return { hereNow: here === 'yes', hoursFree: here === 'yes' ? readTypedNumber(hours ?? '') : null }
}

/** The address of a place on the page at `page`, which may have parameters already. */
export function addressOfPlace(page: string, { weakPoint, ...place }: Partial<Place>, id = ''): string {
  const given = { ...place, 'weak-point': weakPoint }
  const query = new URLSearchParams(
    Object.entries(given).flatMap(([name, value]) => (value ? [[name, value]] : [])),
  )
  const joint = page.includes('?') ? '&' : '?'
  return `${page}${query.size > 0 ? `${joint}${query}` : ''}${id && `#${id}`}`
}

/** A component as the address names it. */
export const keyOf = ({ weakPoint, position }: { weakPoint: string; position: number }) =>
  `${weakPoint}@${position}`
