import type { RejectedRow } from '@/lib/intake/findings'
import type { OrganisationScope } from '../with-organisation'

/** A rejected row that is still to be mended, with its id. */
export type StoredRejectedRow = RejectedRow & { id: string }

/** The rows of an intake that did not go in and were not mended since, in the order of their files and lines. */
export async function readRejectedRows(
  { tx }: OrganisationScope,
  intake: string,
): Promise<StoredRejectedRow[]> {
  return tx.$queryRaw<StoredRejectedRow[]>`
    select rejected.id::text, file.name as file, line, "column", reason, row
    from rejected_rows rejected join intake_files file on file.id = rejected.file_id
    where rejected.intake_id = ${intake}::uuid and mended_at is null
    order by file.name, line, rejected.id`
}
