import type { Records } from '@/lib/records/rows'
import { DEFAULT_SETTINGS } from '@/lib/records/settings'
import type { Database } from '@/lib/store/database'
import { type OrganisationId, organisationId } from '@/lib/store/organisation-id'
import { createOrganisation } from '@/lib/store/write/create-organisation'

export const NOW = new Date('2026-03-01T12:00:00Z')

const ORIGIN = { ref: null, enteredOn: null, notes: {}, line: 2 }

const VEHICLE: Records['vehicles'][number] = {
  unit: 'B-10',
  vin: 'ZZZTESTXX00000017',
  plate: 'ÄÖ 12-345',
  site: 'Mill Yard',
  status: 'active',
  leftOn: null,
  family: 'plover-16',
  variant: null,
  builtOn: 17_000,
  inServiceOn: 17_100,
  watchedFromOn: null,
  watchedFromKm: 12.5,
  history: 'none',
  duty: 'short',
  value: 12_345.67,
  customer: 'A, "B" & \\C',
  contact: null,
  acquiredOn: null,
  acquiredFrom: null,
  purchasePrice: null,
  prepCost: null,
  askingPrice: null,
  soldOn: null,
  coverUntilOn: 21_000,
  coverUntilKm: 200_000,
  ...ORIGIN,
}

/** Two vehicles with at least one record of every kind, and something awkward in every type of column. */
export const EXAMPLE: Records = {
  vehicles: [VEHICLE, { ...VEHICLE, unit: 'B-2', plate: null, notes: { 'Farbe 🎨': 'grün\n"x"' }, line: 3 }],
  readings: [
    { unit: 'B-10', readOn: 20_000, odometerKm: 0.1 + 0.2, engineHours: null, source: 'tracker', ...ORIGIN },
    {
      unit: 'B-2',
      readOn: -1,
      odometerKm: 1e7,
      engineHours: 3.25,
      source: null,
      ...ORIGIN,
      ref: 'r1',
      enteredOn: 20_001,
    },
    { unit: 'B-10', readOn: 19_000, odometerKm: 5, engineHours: null, source: null, ...ORIGIN, line: 4 },
  ],
  codes: [
    {
      unit: 'B-2',
      seenOn: 20_000,
      odometerKm: null,
      code: 'P0302',
      state: 'pending',
      lamp: true,
      clearedOn: 20_002,
      ...ORIGIN,
    },
    {
      unit: 'B-2',
      seenOn: 20_000,
      odometerKm: 7,
      code: '91:3',
      state: 'stored',
      lamp: null,
      clearedOn: null,
      ...ORIGIN,
      line: 3,
    },
  ],
  checks: [
    {
      unit: 'B-10',
      checkedOn: 20_000,
      odometerKm: 10,
      kind: 'scan',
      seen: [{ sign: 'misfire', position: 3 }],
      lookedFor: null,
      kmSinceCleared: 0,
      ...ORIGIN,
    },
    {
      unit: 'B-10',
      checkedOn: 20_000,
      odometerKm: null,
      kind: 'visual',
      seen: [],
      lookedFor: [{ sign: 'leak', position: null }],
      kmSinceCleared: null,
      ...ORIGIN,
      line: 3,
    },
  ],
  repairs: [
    {
      unit: 'B-2',
      doneOn: 20_010,
      odometerKm: null,
      weakPoint: 'injector',
      positions: [1, 3],
      action: 'renew',
      revision: '?',
      found: 'failed',
      because: 'sign',
      restored: null,
      partsCost: 180.5,
      labourHours: 1.5,
      paidBy: 'own',
      supplier: null,
      batch: null,
      note: '{"not": json}',
      ...ORIGIN,
    },
    {
      unit: 'B-2',
      doneOn: 20_011,
      odometerKm: 1,
      weakPoint: 'other',
      positions: [],
      action: 'inspect',
      revision: null,
      found: null,
      because: null,
      restored: 0,
      partsCost: null,
      labourHours: null,
      paidBy: null,
      supplier: null,
      batch: null,
      note: null,
      ...ORIGIN,
      line: 3,
    },
  ],
  changes: [
    { unit: 'B-10', on: 20_020, odometerKm: 100, kind: 'cluster', engineKm: null, offsetKm: 99.5, ...ORIGIN },
  ],
  settings: { ...DEFAULT_SETTINGS, currency: 'EUR', distance: 'mi', looks: { scan: { hours: 0.3 } } },
}

/** An organisation with the example's settings. */
export async function anOrganisation(database: Database, name: string): Promise<OrganisationId> {
  const id = await createOrganisation(database, { name, settings: EXAMPLE.settings, now: NOW })
  if (id === null) throw new Error(`There is already an organisation ${name}`)
  return organisationId(id)
}
