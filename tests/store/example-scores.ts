import type { ComponentScore, FleetScores, VehicleScore } from '@/lib/decisions/score-fleet'
import { librarySchema } from '@/lib/records/library-schema'
import { STORED_HORIZONS_DAYS } from '@/lib/store/horizons'

const weakPoint = (key: string, component: string, positions: number) => ({
  key,
  component,
  failureMode: 'fails',
  positions,
  onset: { p10: 90_000, p50: 180_000 },
  warning: 8000,
  confidence: 'experience',
})

export const EXAMPLE_LIBRARY = librarySchema.parse({
  format: 'gudgeon-library/1',
  name: 'Example',
  currency: 'EUR',
  labourRate: 80,
  dayOffRoad: 120,
  visit: 60,
  slotDays: 14,
  families: [
    {
      key: 'plover-16',
      name: 'Plover 1.6',
      cylinders: 4,
      weakPoints: [weakPoint('injector', 'Injector', 4), weakPoint('pump', 'Coolant pump', 1)],
      signs: [],
    },
  ],
})

const AS_OF = 20_513

function component(unit: string, change: Partial<ComponentScore>): ComponentScore[] {
  return STORED_HORIZONS_DAYS.map((horizonDays) => ({
    unit,
    weakPoint: 'pump',
    position: 1,
    asOf: AS_OF,
    horizonDays,
    horizonKm: null,
    pFail: horizonDays / 1000,
    pLow: horizonDays / 2000,
    pHigh: horizonDays / 500,
    pDeveloping: 0.1,
    remainingKmP50: null,
    costOfWaiting: -1 / 3,
    waitingLow: null,
    waitingHigh: null,
    advice: 'fine',
    speaks: 'mileage alone',
    ...change,
  }))
}

function vehicle(unit: string, change: Partial<VehicleScore>): VehicleScore {
  return {
    unit,
    assessed: true,
    odometerKm: 100_000.5,
    odometerReadOn: AS_OF - 3,
    odometerEstimated: true,
    kmPerDay: 55.5,
    standing: false,
    horizons: STORED_HORIZONS_DAYS.map((days) => ({ days, km: null, combined: days / 800 })),
    advice: 'fine',
    lastFullScanOn: null,
    lastLookedAtOn: AS_OF - 212,
    weakPointsCovered: 2,
    looks: null,
    components: component(unit, {}),
    ...change,
  }
}

/** B-10 must not be driven for its third injector, though its pump is likelier to fail; nothing is due for B-2. */
export const EXAMPLE_SCORES: FleetScores = {
  asOf: AS_OF,
  vehicles: [
    vehicle('B-10', {
      advice: 'stop',
      lastFullScanOn: AS_OF - 30,
      components: [
        ...component('B-10', { pFail: 0.5, pHigh: 0.7 }),
        ...component('B-10', {
          weakPoint: 'injector',
          position: 3,
          pFail: 0.2,
          advice: 'stop',
          speaks: 'misfire on 3',
        }),
      ],
    }),
    vehicle('B-2', {}),
  ],
}
