import type { RejectedRow } from '@/lib/intake/findings'
import { columnsOf } from '../inner/columns'
import { insertRows } from '../inner/insert-rows'
import { newId } from '../inner/new-id'
import type { EnteredFile, IntakeSummary } from '../intake-summary'
import type { IntakeState } from '../read/intake'
import type { OrganisationScope } from '../with-organisation'

/** What came of files: when they were read, or when they went in. */
export type IntakeNote = { id: string; summary: IntakeSummary; rejected: readonly RejectedRow[]; now: Date }

type Kept = RejectedRow & { id: string; intakeId: string; fileId: string }

const REJECTED = columnsOf<Omit<Kept, 'file'>>({
  id: 'uuid',
  intakeId: 'uuid',
  fileId: 'uuid',
  line: 'int',
  column: 'text',
  reason: 'text',
  row: 'text',
})

/** Notes what reading files found, in the place of what was found before. */
export async function noteIntake(scope: OrganisationScope, note: IntakeNote): Promise<void> {
  const { tx } = scope
  const { id, summary, rejected, now } = note
  await tx.$executeRaw`update intakes set summary = ${JSON.stringify(summary)}::jsonb where id = ${id}::uuid`
  await tx.$executeRaw`delete from rejected_rows where intake_id = ${id}::uuid`
  for (const { name, accepted, unchanged, superseded, rejected } of summary.files)
    await tx.$executeRaw`
      update intake_files set accepted = ${accepted}, unchanged = ${unchanged}, superseded = ${superseded},
        rejected = ${rejected} where intake_id = ${id}::uuid and name = ${name}`
  const files = await tx.$queryRaw<{ id: string; name: string }[]>`
    select id::text, name from intake_files where intake_id = ${id}::uuid`
  const idOf = new Map(files.map((file) => [file.name, file.id]))
  const rows = rejected.map(({ file, row, ...rest }) => ({
    ...rest,
    ...{ id: newId(now), intakeId: id, fileId: idOf.get(file), row: row.replaceAll('\0', '\uFFFD') },
  }))
  await insertRows(scope, { name: 'rejected_rows', columns: REJECTED }, rows)
}

/** Notes that files went in, or that entering them failed half way. */
export async function noteIntakeState(
  { tx }: OrganisationScope,
  id: string,
  state: IntakeState,
  now: Date,
): Promise<void> {
  await tx.$executeRaw`
    update intakes set state = ${state}, done_at = case when ${state} = 'done' then coalesce(done_at, ${now}) else done_at end
    where id = ${id}::uuid`
}

/** Notes that rejected rows were mended and taken in otherwise. */
export async function noteMended(scope: OrganisationScope, ids: readonly string[], now: Date): Promise<void> {
  await scope.tx.$executeRaw`
    update rejected_rows set mended_at = ${now} where id = any(${[...ids]}::uuid[])`
}

/** Notes in the transaction of a file's rows that they went in, with what became of them. */
export async function noteEntered(
  { tx }: OrganisationScope,
  id: string,
  name: string,
  entered: EnteredFile,
): Promise<void> {
  await tx.$executeRaw`
    update intakes set summary = jsonb_set(summary, array['entered', ${name}], ${JSON.stringify(entered)}::jsonb)
    where id = ${id}::uuid`
}

/** Notes in the transaction in which a library was put in force which one it was. */
export async function noteLibrary(
  { tx }: OrganisationScope,
  id: string,
  library: IntakeSummary['library'],
): Promise<void> {
  await tx.$executeRaw`
    update intakes set summary = jsonb_set(summary, '{library}', ${JSON.stringify(library)}::jsonb) where id = ${id}::uuid`
}
