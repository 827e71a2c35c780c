import type { Slip } from '@/lib/intake/form-ground'
import { readTypedEntry, type TypedEntry } from '@/lib/intake/typed-entry'
import type { EntryKind } from '@/lib/intake/typed-form'
import type { VehicleChange } from '@/lib/jobs/vehicle-change'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { addRecords } from '@/lib/store/write/add-records'
import type { Question } from '../../../ui/form-state'
import { doubtAbout } from './doubt-about'
import { entryGroundIn, type Ground } from './entry-ground'
import { entryWords, meaningLines } from './entry-words'
import { movedLines } from './moved-lines'

/** What one of the short forms says of a vehicle. */
export type Typed = {
  unit: string
  kind: EntryKind
  fields: Readonly<Record<string, string>>
  /** The doubt about its odometer that was answered with yes. */
  sure: string | null
}

type Entered = {
  ok: true
  touched: string[]
  /** Something of it was not on record already. */
  isNew: boolean
  kind: EntryKind
  entry: Extract<TypedEntry, { ok: true }>
  ground: Ground
}

/** What became of it; where nothing was entered, why. */
export type EnteredTyped =
  | Entered
  | { ok: false; reason: 'gone' }
  | { ok: false; reason: 'to-mend'; slips: Slip[] }
  | { ok: false; reason: 'in-doubt'; question: Question }

/**
 * Enters what was typed, wherever it was: in one transaction with what it is read in the light of, for each of its own
 * costs as much as a statement or four.
 */
export async function enterTyped(
  scope: OrganisationScope,
  { unit, kind, fields, sure }: Typed,
  { now, by }: { now: Date; by: string },
): Promise<EnteredTyped> {
  const ground = await entryGroundIn(scope, { unit, now })
  if (ground === null) return { ok: false, reason: 'gone' }
  const entry = readTypedEntry(kind, fields, { ...ground, distance: ground.distanceOf(fields.unit) })
  if (!entry.ok) return { ok: false, reason: 'to-mend', slips: entry.slips }
  const question = doubtAbout(entry, ground)
  if (question && sure !== question.sure) return { ok: false, reason: 'in-doubt', question }
  const { counts, touched } = await addRecords(scope, entry.records, { now, by })
  const isNew = Object.values(counts).some(({ accepted, superseded }) => accepted + superseded > 0)
  return { ok: true, touched, isNew, kind, entry, ground }
}

/** What was entered, in words. */
export const enteredWords = ({ isNew, kind, entry, ground }: Entered): string =>
  isNew
    ? entryWords(kind, entry, ground.formats)
    : 'That is on record already, word for word: nothing was added.'

/** What it means, and what it did to the scores. */
export const enteredLines = ({ isNew, entry, ground }: Entered, vehicles: VehicleChange[]): string[] =>
  isNew ? [...meaningLines(entry.records), ...movedLines(vehicles, ground)] : []
