import type { AppliedSheet } from '@/lib/intake/workbook/applied'
import type { Mapping } from '@/lib/intake/workbook/mapping'
import type { WorkbookProfile } from '@/lib/intake/workbook/profile'
import type { Job } from '../job'
import type { OrganisationScope } from '../with-organisation'

/** A workbook that is being brought in, but for its bytes. */
export type StoredWorkbook = {
  id: string
  name: string
  bytes: number
  /** Null until it has been read. */
  profile: WorkbookProfile | null
  mapping: Mapping | null
  /** How many changes of the mapping can be undone. */
  undoable: number
  /** What was last made of it; null where nothing was, or it was dropped. */
  intakeId: string | null
  by: string | null
  madeAt: Date
  /** The work that is or was done on it. */
  job: Job | null
}

const WORKBOOK = `
  select workbook.id::text, workbook.name, octet_length(content) as bytes, profile, mapping,
    json_array_length(earlier) as undoable,
    (select id::text from intakes where intakes.id = workbook.intake_id) as "intakeId", people.name as by,
    workbook.made_at as "madeAt",
    (select json_build_object('id', id, 'kind', kind, 'state', state, 'done', done, 'total', total, 'message', message)
      from jobs where jobs.id = workbook.id) as job
  from workbooks workbook left join people on people.id = workbook.made_by`

/** One of them by its id; null where there is none. */
export async function readWorkbookById(
  { tx }: OrganisationScope,
  id: string,
): Promise<StoredWorkbook | null> {
  const [found] = await tx.$queryRawUnsafe<StoredWorkbook[]>(`${WORKBOOK} where workbook.id = $1::uuid`, id)
  return found ?? null
}

/** The workbook of which an intake was made, and what became of its rows; null where it was made of files. */
export async function readWorkbookOf(
  { tx }: OrganisationScope,
  intake: string,
): Promise<{ id: string; name: string; told: AppliedSheet[] } | null> {
  const [found] = await tx.$queryRaw<{ id: string; name: string; told: AppliedSheet[] | null }[]>`
    select id::text, name, told from workbooks where intake_id = ${intake}::uuid`
  return found ? { ...found, told: found.told ?? [] } : null
}

/** The bytes of one, as they came. */
export async function readWorkbookBytes({ tx }: OrganisationScope, id: string): Promise<Uint8Array | null> {
  const [found] = await tx.$queryRaw<{ content: Uint8Array }[]>`
    select content from workbooks where id = ${id}::uuid`
  return found?.content ?? null
}

/** What somebody has begun and not brought in, the latest first. */
export async function readOpenWorkbooks({
  tx,
}: OrganisationScope): Promise<Pick<StoredWorkbook, 'id' | 'name' | 'by' | 'madeAt'>[]> {
  return tx.$queryRaw`
    select workbook.id::text, workbook.name, people.name as by, workbook.made_at as "madeAt"
    from workbooks workbook left join people on people.id = workbook.made_by
    where not exists (select from intakes where intakes.id = workbook.intake_id and intakes.state <> 'staged')
    order by workbook.made_at desc, workbook.id desc`
}
