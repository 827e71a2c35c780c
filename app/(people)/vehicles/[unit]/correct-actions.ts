'use server'

import { refresh } from 'next/cache'
import { z } from 'zod'
import { asRecords } from '@/lib/intake/typed-entry'
import { changeRecords } from '@/lib/jobs/change-records'
import { type Correction, correctRecord } from '@/lib/store/write/correct-record'
import { undoCorrection } from '@/lib/store/write/undo-correction'
import { requirePerson } from '../../../require-person'
import { done, type FormState, refused } from '../../../ui/form-state'
import { type Ground, readEntryGround } from './entry-ground'
import { movedLines } from './moved-lines'
import { typedIn } from './typed-in'

const KIND = z.enum(['readings', 'codes', 'checks', 'repairs', 'changes'])

const REFUSED = {
  'not-found': 'This record, or the vehicle that it names now, is not there.',
  'not-live': 'Somebody has corrected or withdrawn this record meanwhile: look at it again below.',
  'not-withdrawn': 'This record counts already.',
  'not-a-correction': 'This record has never been corrected.',
  'same-as-another': 'Another record says this already: withdraw this one in its place.',
}

/** Puts a corrected row in the place of a record, of another vehicle where it names one, or undoes the correction that was just made. */
export async function correctEntry(
  unit: string,
  kind: z.infer<typeof KIND>,
  id: string,
  before: FormState,
  data: FormData,
): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('enter-records')
  const [table, version] = [KIND.parse(kind), z.uuid().parse(id)]
  const { undo, ...cells } = typedIn(data)
  const now = new Date()
  const ground = await readEntryGround({ database, organisation, unit, now })
  if (ground === null) return refused(before, data, [{ field: null, message: REFUSED['not-found'] }])
  const act = { now, by: person.id }
  if (undo !== undefined) {
    const which = { ...act, kind: table, id: z.uuid().parse(undo) }
    const { vehicles } = await changeRecords(
      database,
      organisation,
      (scope) => undoCorrection(scope, which),
      now,
    )
    refresh()
    return done(before, 'The correction is undone.', { lines: movedLines(vehicles, ground) })
  }
  const target = await groundOf(cells.unit, ground, now)
  if (target === null)
    return refused(before, data, [{ field: 'unit', message: `There is no vehicle ${cells.unit}` }])
  const { records, slips } = asRecords({ [table]: [cells] }, target)
  const row = records[table][0]
  if (!row) return refused(before, data, slips)
  const correction = { ...act, kind: table, id: version, row } as Correction
  const { result, vehicles } = await changeRecords(
    database,
    organisation,
    (scope) => correctRecord(scope, correction),
    now,
  )
  if (!result.ok) return refused(before, data, [{ field: null, message: REFUSED[result.reason] }])
  refresh()
  if (target.unit === unit)
    return done(before, 'Corrected. What stood there stays to be seen below.', {
      lines: movedLines(vehicles, ground),
      undo: result.id,
    })
  return done(before, `Moved to ${target.unit}. Here it stays to be seen, struck through.`, {
    lines: [ground, target].flatMap((each) =>
      movedLines(vehicles, each).map((line) => `${each.unit}: ${line}`),
    ),
    undo: result.id,
    next: { address: `/vehicles/${encodeURIComponent(target.unit)}`, words: `Open ${target.unit}` },
  })
}

/** The vehicle that a corrected record names: its own, or the one that it moves to; null where there is none. */
async function groundOf(named: string | undefined, own: Ground, now: Date): Promise<Ground | null> {
  const unit = named?.trim() ?? own.unit
  if (unit === own.unit) return own
  const { database, organisation } = await requirePerson('enter-records')
  return readEntryGround({ database, organisation, unit, now })
}
