import { rowsOfGroup } from '@/lib/intake/group-rejected'
import type { Edits } from '@/lib/intake/mend-file'
import { withCells } from '@/lib/intake/mend-rows'
import {
  type GoAgain,
  type MendedFile,
  mendGroup,
  mendRows,
  rejectedOf,
  waitingFor,
  withoutVehicle,
} from '@/lib/intake/mend-staged'
import { type Intake, readIntake, readIntakeFiles } from '@/lib/store/read/intake'
import { readRejectedRows, type StoredRejectedRow } from '@/lib/store/read/rejected-rows'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { askIntake } from '@/lib/store/write/ask-intake'
import { noteMended } from '@/lib/store/write/note-intake'
import { type Bringing, changeStagedFile, stageIntake } from '@/lib/store/write/stage-intake'

/**
 * Mends the rejected rows of a group by the one change that it proposes.
 *
 * @returns the intake in which they are read again: the same where nothing went in yet, else a new one; null where
 *   there was nothing to mend
 */
export async function mendIntakeGroup(
  scope: OrganisationScope,
  { id, key }: { id: string; key: string },
  bringing: Bringing,
): Promise<string | null> {
  const found = await openIntake(scope, id)
  if (!found) return null
  const { intake, files, rejected, keep } = found
  const rows = rowsOfGroup(rejectedOf(files, rejected), key) as StoredRejectedRow[]
  const mended = mendGroup(files, rejected, key, keep)
  return readAgain(scope, intake, { mended, rows, waiting: waitingFor(files, rejected, rows) }, bringing)
}

/**
 * Mends rejected rows by what somebody wrote into their cells.
 *
 * @param cells new cells by the id of the rejected row, in the order of its file's columns
 */
export async function mendIntakeRows(
  scope: OrganisationScope,
  { id, cells }: { id: string; cells: ReadonlyMap<string, readonly string[]> },
  bringing: Bringing,
): Promise<string | null> {
  const found = await openIntake(scope, id)
  if (!found) return null
  const { intake, files, rejected, keep } = found
  const rows = rejected.filter((row) => cells.has(row.id))
  const edits = new Map<string, Edits>()
  for (const { id: row, file, line } of rows)
    edits.set(file, new Map([...(edits.get(file) ?? []), [line, cells.get(row) ?? []]]))
  const mended = mendRows(files, edits, keep)
  return readAgain(scope, intake, { mended, rows, waiting: waitingFor(files, rejected, rows) }, bringing)
}

/**
 * Reads rows once more whose vehicles were not there, as they were written: somebody has brought the vehicles in since.
 *
 * @returns as where rows are mended
 */
export async function readIntakeRowsAgain(
  scope: OrganisationScope,
  { id, key }: { id: string; key: string },
  bringing: Bringing,
): Promise<string | null> {
  const found = await openIntake(scope, id)
  if (!found) return null
  const { intake, files, rejected } = found
  if (intake.state === 'staged') {
    await askIntake(scope, 'intake-read', { id, ...bringing })
    return id
  }
  const { rows, files: mended } = withoutVehicle(files, rejected, key)
  return readAgain(scope, intake, { mended, rows, waiting: { rows: [], files: [] } }, bringing)
}

async function openIntake(scope: OrganisationScope, id: string) {
  const intake = await readIntake(scope, id)
  if (!intake) return null
  const files = await readIntakeFiles(scope, id)
  const rejected = await readRejectedRows(scope, id)
  return { intake, files, rejected, keep: intake.state === 'staged' ? ('all' as const) : ('mended' as const) }
}

interface Mended {
  mended: MendedFile[]
  rows: StoredRejectedRow[]
  /** Where the other rows of these files went in, those that waited go with what was mended. */
  waiting: GoAgain<StoredRejectedRow>
}

async function readAgain(
  scope: OrganisationScope,
  { id, state }: Intake,
  { mended, rows, waiting }: Mended,
  bringing: Bringing,
): Promise<string | null> {
  if (mended.length === 0) return null
  if (state === 'staged') {
    for (const { name, bytes } of mended)
      await changeStagedFile(scope, { intake: id, name }, { bytes }, bringing)
    return id
  }
  await noteMended(
    scope,
    [...rows, ...waiting.rows].map((row) => row.id),
    bringing.now,
  )
  return stageIntake(scope, [...mended, ...waiting.files], bringing)
}

/** Refused rows of one file with their cells under its columns. */
export type MendableFile = {
  name: string
  columns: string[]
  rows: (StoredRejectedRow & { cells: string[] })[]
}

/** The refused rows of a group, cell by cell; those that no columns head cannot be mended so and are left out. */
export async function mendableRows(
  scope: OrganisationScope,
  id: string,
  key: string,
): Promise<MendableFile[]> {
  const found = await openIntake(scope, id)
  if (!found) return []
  const files = rejectedOf(found.files, found.rejected)
  const rows = rowsOfGroup(files, key) as StoredRejectedRow[]
  return files.flatMap(({ name, heading }) => {
    const own = rows.filter(({ file }) => file === name)
    if (own.length === 0 || !heading) return []
    return [{ name, columns: heading.written, rows: withCells(own, heading) }]
  })
}
