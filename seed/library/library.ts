import { DUNLIN } from './dunlin'
import { KNOT } from './knot'
import { PLOVER } from './plover'
import type { FamilyEntry } from './shape'
import { SISKIN } from './siskin'

export const FAMILIES: readonly FamilyEntry[] = [PLOVER, DUNLIN, SISKIN, KNOT]

/** What the demo's workshop believes about its engines, in the form of a library file. */
export const DEMO_LIBRARY = {
  format: 'gudgeon-library/1',
  name: 'Moorland fleet',
  currency: 'EUR',
  labourRate: 78,
  dayOffRoad: 180,
  visit: 45,
  slotDays: 14,
  zones: ['front', 'inlet side', 'top', 'exhaust side', 'below', 'cab'],
  looks: { scan: { hours: 0.3 }, visual: { hours: 0.2 }, road: { hours: 0.4 }, measure: { hours: 0.8 } },
  families: FAMILIES,
}
