'use server'

import { refresh } from 'next/cache'
import { z } from 'zod'
import type { EntryKind } from '@/lib/intake/typed-form'
import { changeRecords } from '@/lib/jobs/change-records'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { restoreRecord } from '@/lib/store/write/restore-record'
import { takeBackEntry } from '@/lib/store/write/take-back-entry'
import { undoCorrection } from '@/lib/store/write/undo-correction'
import { withdrawRecord } from '@/lib/store/write/withdraw-record'
import { requirePerson } from '../../../require-person'
import { asked, done, type FormState, refused } from '../../../ui/form-state'
import { enteredLines, enteredWords, enterTyped } from './enter-typed'
import { readEntryGround } from './entry-ground'
import { movedLines } from './moved-lines'
import { typedIn } from './typed-in'

/** Enters what one of the short forms says, or takes back what it has just entered. */
export async function enterRecord(
  unit: string,
  kind: EntryKind,
  before: FormState,
  data: FormData,
): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('enter-records')
  const { undo, sure, ...fields } = typedIn(data)
  if (undo !== undefined) return takeBack(unit, undo, before)
  const now = new Date()
  const typed = { unit, kind, fields, sure: sure ?? null }
  const enter = (scope: OrganisationScope) => enterTyped(scope, typed, { now, by: person.id })
  const { result, vehicles } = await changeRecords(database, organisation, enter, now)
  if (!result.ok) {
    if (result.reason === 'in-doubt') return asked(before, data, result.question)
    const slips = result.reason === 'gone' ? [{ field: null, message: NO_VEHICLE }] : result.slips
    return refused(before, data, slips)
  }
  if (!result.isNew) return done(before, enteredWords(result))
  return done(before, enteredWords(result), {
    lines: enteredLines(result, vehicles),
    undo: now.toISOString(),
    readAnew: true,
  })
}

const NO_VEHICLE = 'There is no such vehicle any more. Look for it on the watchlist.'

async function takeBack(unit: string, undo: string, before: FormState): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('enter-records')
  const now = new Date()
  const ground = await readEntryGround({ database, organisation, unit, now })
  const enteredAt = z.iso.datetime().safeParse(undo)
  if (!enteredAt.success || ground === null) return before
  const entry = { unit, enteredAt: new Date(enteredAt.data), by: person.id }
  const { vehicles } = await changeRecords(
    database,
    organisation,
    (scope) => takeBackEntry(scope, entry, now),
    now,
  )
  return done(before, 'Taken back. It stays to be seen below, struck through.', {
    lines: movedLines(vehicles, ground),
    readAnew: true,
  })
}

const ACTS = { withdraw: withdrawRecord, restore: restoreRecord, 'undo-correction': undoCorrection }

/** What a button of the list of records stands for, as `act kind id`. */
const PRESSED = z
  .string()
  .transform((text) => text.split(' '))
  .pipe(
    z.tuple([
      z.enum(['withdraw', 'restore', 'undo-correction']),
      z.enum(['readings', 'codes', 'checks', 'repairs', 'changes']),
      z.uuid(),
    ]),
  )

/** Withdraws a record, brings it back, or undoes its correction. What has become of it meanwhile is on the page. */
export async function changeRecordState(data: FormData): Promise<void> {
  const { database, organisation, person } = await requirePerson('enter-records')
  const [act, kind, id] = PRESSED.parse(data.get('pressed'))
  const now = new Date()
  await changeRecords(
    database,
    organisation,
    (scope) => ACTS[act](scope, { kind, id, now, by: person.id }),
    now,
  )
  refresh()
}
