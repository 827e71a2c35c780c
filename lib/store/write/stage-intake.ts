import crypto from 'node:crypto'
import type { FileKind } from '@/lib/intake/kind-of-file'
import type { StagedFile } from '@/lib/intake/read-staged'
import { newId } from '../inner/new-id'
import type { OrganisationScope } from '../with-organisation'
import { askJob } from './ask-job'

/** Who brings files in, and when. */
export type Bringing = { by: string | null; now: Date }

/**
 * Lays files aside, and asks for them to be read. Nothing of them is taken in yet.
 *
 * @returns the id of the intake
 */
export async function stageIntake(
  scope: OrganisationScope,
  files: readonly StagedFile[],
  { by, now }: Bringing,
): Promise<string> {
  const { tx, organisation } = scope
  const id = newId(now)
  await tx.$executeRaw`
    insert into intakes (organisation_id, id, state, made_by, made_at)
    values (${organisation}::uuid, ${id}::uuid, 'staged', ${by}::uuid, ${now})`
  for (const { name, kind, bytes } of withOwnNames(files)) {
    await tx.$executeRaw`
      insert into intake_files (organisation_id, id, intake_id, name, kind, content, hash)
      values (${organisation}::uuid, ${newId(now)}::uuid, ${id}::uuid, ${name}, ${kind}, ${bytes}, ${hashOf(bytes)})`
  }
  await askJob(scope, { id, kind: 'intake-read', by, now })
  return id
}

/** Changes a file that is not taken in yet, or says what it holds, and asks for everything to be read again. */
export async function changeStagedFile(
  scope: OrganisationScope,
  file: { intake: string; name: string },
  { kind, bytes }: { kind?: FileKind; bytes?: Uint8Array },
  { by, now }: Bringing,
): Promise<boolean> {
  const { tx } = scope
  const held = await tx.$executeRaw`
    update intakes set summary = null where id = ${file.intake}::uuid and state = 'staged'`
  if (held === 0) return false
  if (kind !== undefined)
    await tx.$executeRaw`
      update intake_files set kind = ${kind} where intake_id = ${file.intake}::uuid and name = ${file.name}`
  if (bytes !== undefined)
    await tx.$executeRaw`
      update intake_files set content = ${bytes}, hash = ${hashOf(bytes)}
      where intake_id = ${file.intake}::uuid and name = ${file.name}`
  return askJob(scope, { id: file.intake, kind: 'intake-read', by, now })
}

const hashOf = (bytes: Uint8Array) => crypto.createHash('sha256').update(bytes).digest()

/** Two folders may each hold a readings.csv: the second becomes "readings.csv (2)". */
function withOwnNames(files: readonly StagedFile[]): StagedFile[] {
  const taken = new Set<string>()
  return files.map((file) => {
    let name = file.name
    for (let i = 2; taken.has(name); i++) name = `${file.name} (${i})`
    taken.add(name)
    return { ...file, name }
  })
}
