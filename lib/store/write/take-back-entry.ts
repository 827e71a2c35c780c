import { readVehicleRecords } from '../read/vehicle-records'
import type { OrganisationScope } from '../with-organisation'
import { undoCorrection } from './undo-correction'
import { withdrawRecord } from './withdraw-record'

/** What one person entered for one vehicle at one instant. */
export type EntryMade = { unit: string; enteredAt: Date; by: string }

/**
 * Takes back everything that one form entered: its records count no more, and what they had superseded counts again.
 *
 * @param actor who takes it back, where it is somebody else than who entered it
 * @returns the vehicles that it touches; none where nothing of it counts any more
 */
export async function takeBackEntry(
  scope: OrganisationScope,
  { unit, enteredAt, by }: EntryMade,
  now: Date,
  actor: string = by,
): Promise<{ touched: string[] }> {
  const records = (await readVehicleRecords(scope, unit)).filter(
    (record) =>
      record.state === 'live' &&
      record.enteredBy === by &&
      record.enteredAt.getTime() === enteredAt.getTime(),
  )
  const touched = new Set<string>()
  for (const { kind, id, supersedesId } of records) {
    const take = supersedesId === null ? withdrawRecord : undoCorrection
    const taken = await take(scope, { kind, id, now, by: actor })
    if (taken.ok) for (const each of taken.touched) touched.add(each)
  }
  return { touched: [...touched] }
}
