import { afterSaid, type PartSaid, type PartStock } from '@/lib/records/part-stock'
import type { Entry, EntryCounts } from '../entry'
import { columnsOf } from '../inner/columns'
import { insertRows } from '../inner/insert-rows'
import { lockOrganisation } from '../inner/locks'
import { newId } from '../inner/new-id'
import { readPartStock } from '../read/part-lines'
import type { OrganisationScope } from '../with-organisation'

type Said = PartSaid & { notes: Record<string, string> }

const COLUMNS = columnsOf<
  Said & { id: string; enteredAt: Date; enteredBy: string | null; intakeId: string | null }
>({
  id: 'uuid',
  part: 'text',
  whole: 'bool',
  onHand: 'int',
  onOrder: 'int',
  dueOn: 'day',
  leadDays: 'int',
  price: 'float',
  supplier: 'text',
  notes: 'json',
  enteredAt: 'instant',
  enteredBy: 'uuid',
  intakeId: 'uuid',
})

/**
 * Notes what was said of parts. What changes nothing of what stands is not noted.
 *
 * @param said each part at most once
 */
export async function stateParts(
  scope: OrganisationScope,
  said: readonly Said[],
  { now, by, intake = null }: Pick<Entry, 'now' | 'by' | 'intake'>,
): Promise<EntryCounts> {
  await lockOrganisation(scope, 'records')
  const standing = await readPartStock(scope)
  const changes = said.filter((line) => !isSame(standing.get(line.part) ?? null, line))
  const rows = changes.map((line) => ({
    ...{ ...line, id: newId(now) },
    ...{ enteredAt: now, enteredBy: by, intakeId: intake },
  }))
  await insertRows(scope, { name: 'part_lines', columns: COLUMNS }, rows)
  const superseded = changes.filter(({ part }) => standing.has(part)).length
  return {
    accepted: changes.length - superseded,
    unchanged: said.length - changes.length,
    superseded,
  }
}

function isSame(standing: PartStock | null, said: Said): boolean {
  const after = afterSaid(standing, said)
  const fields = Object.keys(after) as (keyof PartStock)[]
  return standing !== null && fields.every((field) => standing[field] === after[field])
}

/**
 * Takes back the last thing that was said of a part: what stood before stands again. It stays to be seen in the table.
 *
 * @returns false where it is not the last that stands
 */
export async function undoPartLine(
  scope: OrganisationScope,
  id: string,
  { now, by }: { now: Date; by: string | null },
): Promise<boolean> {
  await lockOrganisation(scope, 'records')
  const undone = await scope.tx.$executeRaw`
    update part_lines line set withdrawn_at = ${now}, withdrawn_by = ${by}::uuid
    where line.id = ${id}::uuid and line.withdrawn_at is null and not exists (
      select from part_lines later where later.part = line.part and later.withdrawn_at is null
        and (later.entered_at, later.id) > (line.entered_at, line.id))`
  return undone > 0
}
