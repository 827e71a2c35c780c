import { holdVersions, type RecordAct, type RecordActResult, withdraw } from '../inner/record-versions'
import { touchVehicles } from '../inner/touch-vehicles'
import type { OrganisationScope } from '../with-organisation'

/** Takes a live record out of what counts. It stays to be seen, and `restoreRecord` brings it back. */
export async function withdrawRecord(scope: OrganisationScope, act: RecordAct): Promise<RecordActResult> {
  const versions = await holdVersions(scope, act)
  if (!versions) return { ok: false, reason: 'not-found' }
  const { asked } = versions
  if (!asked.live) return { ok: false, reason: 'not-live' }
  await withdraw(scope, act, asked.id)
  await touchVehicles(scope, [asked.unit])
  return { ok: true, id: asked.id, touched: [asked.unit] }
}
