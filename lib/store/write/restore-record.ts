import {
  clashes,
  enliven,
  holdVersions,
  type RecordAct,
  type RecordActResult,
  supersede,
} from '../inner/record-versions'
import { touchVehicles } from '../inner/touch-vehicles'
import type { OrganisationScope } from '../with-organisation'

/** Lets a withdrawn record count again, in the place of what has come to count there since. */
export async function restoreRecord(scope: OrganisationScope, act: RecordAct): Promise<RecordActResult> {
  const versions = await holdVersions(scope, act)
  if (!versions) return { ok: false, reason: 'not-found' }
  const { asked, live } = versions
  if (!asked.withdrawn) return { ok: false, reason: 'not-withdrawn' }
  if (await clashes(scope, act.kind, asked)) return { ok: false, reason: 'same-as-another' }
  await supersede(scope, act, live, asked.id)
  await enliven(scope, act.kind, asked.id)
  const touched = [...new Set([asked.unit, live?.unit ?? asked.unit])]
  await touchVehicles(scope, touched)
  return { ok: true, id: asked.id, touched }
}
