import type { Records } from '@/lib/records/rows'
import { contentHash } from '../inner/content-hash'
import { ENTRY_COLUMNS, entryFields } from '../inner/entry-columns'
import { insertOnVehicles } from '../inner/insert-rows'
import { newId } from '../inner/new-id'
import { RECORD_COLUMNS, type RecordKind } from '../inner/record-tables'
import {
  clashes,
  holdVersions,
  type RecordAct,
  type RecordActResult,
  supersede,
  VERSION_COLUMNS,
} from '../inner/record-versions'
import { touchVehicles } from '../inner/touch-vehicles'
import type { OrganisationScope } from '../with-organisation'

/** A record as it should have been written; it may name another vehicle than before. */
export type Correction = {
  [Kind in RecordKind]: RecordAct & { kind: Kind; row: Records[Kind][number] }
}[RecordKind]

/**
 * Puts a corrected row in the place of a live record, which stays to be seen. Bringing in the file that the record
 * came from again leaves the correction.
 */
export async function correctRecord(scope: OrganisationScope, act: Correction): Promise<RecordActResult> {
  const { kind, row, now } = act
  const versions = await holdVersions(scope, act)
  if (!versions || !(await isVehicle(scope, row.unit))) return { ok: false, reason: 'not-found' }
  const { asked } = versions
  if (!asked.live) return { ok: false, reason: 'not-live' }
  const hash = contentHash(row)
  if (hash === asked.contentHash) return { ok: true, id: asked.id, touched: [] }
  if (await clashes(scope, kind, { ...asked, contentHash: hash, ref: row.ref }))
    return { ok: false, reason: 'same-as-another' }

  const id = newId(now)
  await supersede(scope, act, asked, id)
  const place = {
    contentHash: hash,
    correctsHash: asked.correctsHash ?? asked.contentHash,
    supersedesId: asked.id,
    sequence: asked.sequence,
  }
  const version = { ...row, ...entryFields(act), ...place, id }
  const columns = [...ENTRY_COLUMNS, ...VERSION_COLUMNS, ...RECORD_COLUMNS[kind]]
  await insertOnVehicles(scope, { name: kind, columns }, [version])
  const touched = [...new Set([asked.unit, row.unit])]
  await touchVehicles(scope, touched)
  return { ok: true, id, touched }
}

async function isVehicle({ tx }: OrganisationScope, unit: string): Promise<boolean> {
  const [found] = await tx.$queryRaw<{ found: boolean }[]>`
    select exists (select from vehicles where unit = ${unit} and withdrawn_at is null) as found`
  return found?.found ?? false
}
