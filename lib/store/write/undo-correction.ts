import {
  clashes,
  enliven,
  holdVersions,
  type RecordAct,
  type RecordActResult,
  withdraw,
} from '../inner/record-versions'
import { touchVehicles } from '../inner/touch-vehicles'
import type { OrganisationScope } from '../with-organisation'

/** Withdraws a correction, or a row that took another's place by its `ref`: what it superseded counts again. */
export async function undoCorrection(scope: OrganisationScope, act: RecordAct): Promise<RecordActResult> {
  const versions = await holdVersions(scope, act)
  if (!versions) return { ok: false, reason: 'not-found' }
  const { asked, all } = versions
  if (!asked.live) return { ok: false, reason: 'not-live' }
  const earlier = all.find(({ id }) => id === asked.supersedesId)
  if (!earlier) return { ok: false, reason: 'not-a-correction' }
  if (await clashes(scope, act.kind, earlier)) return { ok: false, reason: 'same-as-another' }
  await withdraw(scope, act, asked.id)
  await enliven(scope, act.kind, earlier.id)
  const touched = [...new Set([asked.unit, earlier.unit])]
  await touchVehicles(scope, touched)
  return { ok: true, id: earlier.id, touched }
}
