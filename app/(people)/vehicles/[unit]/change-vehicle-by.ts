import { refresh } from 'next/cache'
import { z } from 'zod'
import type { Slip } from '@/lib/intake/form-ground'
import { changeRecords } from '@/lib/jobs/change-records'
import { changeVehicle, type VehicleAct } from '@/lib/store/write/change-vehicle'
import { undoVehicleChange } from '@/lib/store/write/undo-vehicle-change'
import { requirePerson } from '../../../require-person'
import { done, type FormState, refused } from '../../../ui/form-state'
import { type Ground, readEntryGround } from './entry-ground'
import { movedLines } from './moved-lines'
import { typedIn } from './typed-in'

/** What a form says of the vehicle, and what is told once it is done; or what has to be mended. */
export type ReadChange =
  | ({ ok: true; words: string } & Pick<VehicleAct, 'facts' | 'changes'>)
  | { ok: false; slips: Slip[] }

type Sent = { unit: string; before: FormState; data: FormData }

export const NO_VEHICLE = 'There is no such vehicle any more. Look for it on the watchlist.'
const CHANGED_SINCE =
  'Somebody has changed this vehicle since, so that this is not undone: look at what stands, and change it.'

/** Does what a form of the vehicle itself says, or undoes what it has just done. */
export async function changeVehicleBy(
  { unit, before, data }: Sent,
  read: (fields: Record<string, string>, ground: Ground) => Promise<ReadChange> | ReadChange,
): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('enter-records')
  const { undo, ...fields } = typedIn(data)
  const now = new Date()
  const ground = await readEntryGround({ database, organisation, unit, now })
  if (ground === null) return refused(before, data, [{ field: null, message: NO_VEHICLE }])
  const act = undo === undefined ? await read(fields, ground) : undoing(undo)
  if (!act.ok) return refused(before, data, act.slips)
  const { result, vehicles } = await changeRecords(
    database,
    organisation,
    (scope) =>
      'changedAt' in act
        ? undoVehicleChange(scope, { unit, changedAt: act.changedAt, by: person.id }, now)
        : changeVehicle(scope, { unit, facts: act.facts, changes: act.changes, now, by: person.id }),
    now,
  )
  if (!result.ok) {
    const message = result.reason === 'not-found' ? NO_VEHICLE : CHANGED_SINCE
    return refused(before, data, [{ field: null, message }])
  }
  refresh()
  if (result.touched.length === 0) return done(before, 'Nothing was changed: it is on record like that.')
  const lines = movedLines(vehicles, ground)
  if ('changedAt' in act) return done(before, 'Undone: it is as it was before.', { lines })
  return done(before, act.words, { lines, undo: now.toISOString() })
}

function undoing(undo: string) {
  const changedAt = z.iso.datetime().safeParse(undo)
  return changedAt.success
    ? { ok: true as const, changedAt: new Date(changedAt.data) }
    : { ok: false as const, slips: [] }
}
