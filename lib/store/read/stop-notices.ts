import { parsedLibrary } from '@/lib/records/parsed-library'
import { nameComponent, type Place } from '../inner/component-names'
import type { OrganisationScope } from '../with-organisation'
import { readLibraryInForce } from './library-in-force'

/** A notice that a vehicle must not be driven: what raised it, and what was done about it by whom. */
export type StopNotice = {
  id: string
  unit: string
  plate: string | null
  weakPoint: string
  name: string
  place: Place
  position: number
  raisedAt: Date
  reason: string
  toldAt: Date | null
  toldWhom: string | null
  toldBy: string | null
  parkedAt: Date | null
  parkedBy: string | null
  releasedAt: Date | null
  releasedBy: string | null
  releasedBecause: string | null
  /** The organisation's address was to be told of it, and after every attempt it was not. */
  undelivered: boolean
}

type Found = Omit<StopNotice, 'name' | 'place'> & { family: string }

/** Which notices: every open one, those whose driver nobody has told yet, or all of one vehicle. */
export type NoticesWanted = { open: true } | { untold: true } | { unit: string }

/** Notices, first those of which the organisation's address could not be told, then the oldest; people by their names. */
export async function readStopNotices(
  scope: OrganisationScope,
  wanted: NoticesWanted,
): Promise<StopNotice[]> {
  const unit = 'unit' in wanted ? wanted.unit : null
  const untold = 'untold' in wanted
  const found = await scope.tx.$queryRaw<Found[]>`
    select notice.id::text, vehicle.unit, vehicle.plate, vehicle.family, notice.weak_point as "weakPoint",
      notice.position, notice.raised_at as "raisedAt", notice.reason,
      notice.told_at as "toldAt", notice.told_whom as "toldWhom", told.name as "toldBy",
      notice.parked_at as "parkedAt", parked.name as "parkedBy",
      notice.released_at as "releasedAt", released.name as "releasedBy", notice.released_because as "releasedBecause",
      exists (select from webhook_deliveries delivery
        where delivery.notice_id = notice.id and delivery.state = 'failed') as undelivered
    from stop_notices notice join vehicles vehicle on vehicle.id = notice.vehicle_id
      left join people told on told.id = notice.told_by
      left join people parked on parked.id = notice.parked_by
      left join people released on released.id = notice.released_by
    where case when ${unit}::text is null then notice.released_at is null else vehicle.unit = ${unit} end
      and (not ${untold} or notice.told_at is null)
    order by undelivered desc, notice.raised_at, notice.id`
  if (found.length === 0) return []
  const stored = await readLibraryInForce(scope)
  const parsed = stored && parsedLibrary(stored.content)
  return found.map(({ family, ...notice }) => ({
    ...notice,
    ...(parsed?.ok
      ? nameComponent(notice.weakPoint, family, parsed.library)
      : { name: notice.weakPoint, place: null }),
  }))
}
