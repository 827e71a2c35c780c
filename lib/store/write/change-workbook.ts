import type { AppliedSheet } from '@/lib/intake/workbook/applied'
import type { Mapping } from '@/lib/intake/workbook/mapping'
import type { WorkbookProfile } from '@/lib/intake/workbook/profile'
import type { OrganisationScope } from '../with-organisation'
import { askJob } from './ask-job'
import { dropIntake } from './drop-intake'
import type { Bringing } from './stage-intake'

/** Keeps what a workbook looks like, and what it seems to mean where nobody has said so yet. */
export async function noteWorkbook(
  { tx }: OrganisationScope,
  { id, profile, mapping }: { id: string; profile: WorkbookProfile; mapping: Mapping },
): Promise<void> {
  await tx.$executeRaw`
    update workbooks set profile = ${JSON.stringify(profile)}::json, mapping = ${JSON.stringify(mapping)}::json
    where id = ${id}::uuid`
}

/** More changes than these are not undone one by one. */
const MOST_UNDONE = 50

/**
 * Changes what people say of a workbook; what they said before can be had back. Where the change reads other rows as
 * the header, the workbook is looked at again.
 *
 * @param change what becomes of what stands, held until the end of the transaction
 * @returns whether it was there
 */
export async function changeMapping(
  scope: OrganisationScope,
  id: string,
  change: (mapping: Mapping) => Mapping,
  { by, now }: Bringing,
): Promise<boolean> {
  const { tx } = scope
  const [held] = await tx.$queryRaw<{ mapping: Mapping | null; earlier: Mapping[] }[]>`
    select mapping, earlier from workbooks where id = ${id}::uuid for update`
  if (!held?.mapping) return false
  const next = change(held.mapping)
  const earlier = [...held.earlier, held.mapping].slice(-MOST_UNDONE)
  await put(scope, id, next, earlier)
  if (!sameHeaders(held.mapping, next)) await askJob(scope, { id, kind: 'workbook-read', by, now })
  return true
}

/** Takes the last change back. @returns whether there was one */
export async function undoMapping(
  scope: OrganisationScope,
  id: string,
  { by, now }: Bringing,
): Promise<boolean> {
  const [held] = await scope.tx.$queryRaw<{ mapping: Mapping; earlier: Mapping[] }[]>`
    select mapping, earlier from workbooks where id = ${id}::uuid for update`
  const before = held?.earlier.at(-1)
  if (!held || !before) return false
  await put(scope, id, before, held.earlier.slice(0, -1))
  if (!sameHeaders(held.mapping, before)) await askJob(scope, { id, kind: 'workbook-read', by, now })
  return true
}

async function put(
  { tx }: OrganisationScope,
  id: string,
  mapping: Mapping,
  earlier: Mapping[],
): Promise<void> {
  await tx.$executeRaw`
    update workbooks set mapping = ${JSON.stringify(mapping)}::json, earlier = ${JSON.stringify(earlier)}::json
    where id = ${id}::uuid`
}

function sameHeaders(one: Mapping, other: Mapping): boolean {
  const rows = ({ sheets }: Mapping) =>
    JSON.stringify(Object.entries(sheets).map(([name, { headerRow }]) => [name, headerRow]))
  return rows(one) === rows(other)
}

/**
 * Notes what was made of a workbook, and what became of its rows; what had been made of it and was not taken in goes.
 */
export async function noteMade(
  scope: OrganisationScope,
  id: string,
  { intake, told }: { intake: string; told: readonly AppliedSheet[] },
): Promise<void> {
  const [before] = await scope.tx.$queryRaw<{ intakeId: string | null }[]>`
    select intake_id::text as "intakeId" from workbooks where id = ${id}::uuid for update`
  if (before?.intakeId) await dropIntake(scope, before.intakeId)
  await scope.tx.$executeRaw`
    update workbooks set intake_id = ${intake}::uuid, told = ${JSON.stringify(told)}::json where id = ${id}::uuid`
}

/** Drops a workbook of which nothing was taken in, and what was made of it. @returns whether it was dropped */
export async function dropWorkbook(scope: OrganisationScope, id: string): Promise<boolean> {
  const { tx } = scope
  const [held] = await tx.$queryRaw<{ intakeId: string | null; state: string | null }[]>`
    select workbook.intake_id::text as "intakeId", intake.state from workbooks workbook
    left join intakes intake on intake.id = workbook.intake_id where workbook.id = ${id}::uuid for update of workbook`
  if (!held || (held.state !== null && held.state !== 'staged')) return false
  if (held.intakeId) await dropIntake(scope, held.intakeId)
  await tx.$executeRaw`delete from workbooks where id = ${id}::uuid`
  await tx.$executeRaw`delete from jobs where id = ${id}::uuid`
  return true
}
