import { newId } from '../inner/new-id'
import type { OrganisationScope } from '../with-organisation'
import { askJob } from './ask-job'
import type { Bringing } from './stage-intake'

/** Lays a workbook aside, and asks for it to be read. Nothing of it is taken in yet. @returns its id */
export async function stageWorkbook(
  scope: OrganisationScope,
  { name, bytes }: { name: string; bytes: Uint8Array },
  { by, now }: Bringing,
): Promise<string> {
  const id = newId(now)
  await scope.tx.$executeRaw`
    insert into workbooks (organisation_id, id, name, content, made_by, made_at)
    values (${scope.organisation}::uuid, ${id}::uuid, ${name}, ${bytes}, ${by}::uuid, ${now})`
  await askJob(scope, { id, kind: 'workbook-read', by, now })
  return id
}
