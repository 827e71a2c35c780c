import { readKnownLibrary } from '../read/known-library'
import { readWebhookToTell } from '../read/webhook'
import type { OrganisationScope } from '../with-organisation'
import { writeDelivery } from '../write/write-delivery'
import { nameComponent } from './component-names'

/** A stop that was raised, as it is told. */
export type RaisedStop = {
  vehicleId: string
  noticeId: string
  unit: string
  family: string
  weakPoint: string
  position: number
  pFail: number
  pLow: number
  pHigh: number
  horizonDays: number
}

/** Has the organisation's address told of stops, where it wants that: the vehicle and the part, and nobody's name. */
export async function tellOfStops(
  scope: OrganisationScope,
  raised: readonly RaisedStop[],
  now: Date,
): Promise<void> {
  if (raised.length === 0 || !(await readWebhookToTell(scope, now))) return
  const known = await readKnownLibrary(scope)
  for (const { vehicleId, noticeId, ...stop } of raised) {
    const { unit, family, weakPoint, position } = stop
    const name = known ? nameComponent(weakPoint, family, known.library).name : weakPoint
    const body = {
      type: 'vehicle.stop',
      timestamp: now.toISOString(),
      data: {
        ...{ unit, weak_point: weakPoint, name, position, advice: 'stop' },
        ...{ p_fail: stop.pFail, p_low: stop.pLow, p_high: stop.pHigh, horizon_days: stop.horizonDays },
        path: `/vehicles/${encodeURIComponent(unit)}#stop`,
      },
    }
    await writeDelivery(scope, { kind: 'stop', vehicleId, noticeId, body: JSON.stringify(body) }, now)
  }
}
