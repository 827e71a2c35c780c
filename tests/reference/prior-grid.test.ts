import { describe, it } from 'vitest'
import { scoreFleet } from '@/lib/decisions/score-fleet'
import type { Grade } from '../simulation/libraries'
import { libraryOf } from '../simulation/libraries'
import { dayAt, FIRST_DAY } from '../simulation/lives'
import { askPriorGrid, type SoloLook } from '../simulation/prior-grid'
import { checkRow, readingRow, recordsOf, vehicleRow } from '../simulation/record-rows'
import { outsideCheck } from './outside-checks'

const source = '11³ parameters from −3.5 to 3.5 standard deviations (tests/simulation/prior-grid.ts)'
const formula = 'Σ prior·likelihood of the looks·chance, over the same without the chance'
const checks = {
  documented: outsideCheck({
    what: 'nodes over a documented statement, one vehicle’s looks in them',
    formula,
    source,
    tolerance: { relative: 0.005 },
  }),
  experience: outsideCheck({
    what: 'nodes over a statement from experience, one vehicle’s looks in them',
    formula,
    source,
    tolerance: { relative: 0.05 },
  }),
  hunch: outsideCheck({
    what: 'nodes over a hunch, one vehicle’s looks in them',
    formula,
    source,
    tolerance: { relative: 0.4 },
  }),
}

const SIGN = { leak: 0.02, detect: 0.5 }
const AHEAD_KM = 5_000

/** Looks every 6,000 km; seen at those numbered. */
const looksUntil = (km: number, seen: number[]): SoloLook[] =>
  Array.from({ length: Math.floor(km / 6_000) }, (_, i) => ({
    km: 6_000 * (i + 1),
    seen: seen.includes(i + 1),
  }))

const histories: [string, number, SoloLook[]][] = [
  ['never looked at', 40_000, []],
  ['never looked at', 90_000, []],
  ['never looked at', 150_000, []],
  ['clean all along', 62_000, looksUntil(62_000, [])],
  ['clean all along', 122_000, looksUntil(122_000, [])],
  ['clean all along', 171_000, looksUntil(171_000, [])],
  ['seen once, early', 92_000, looksUntil(92_000, [5])],
  ['seen at the last look', 92_000, looksUntil(92_000, [15])],
  ['seen twice of the last three', 122_000, looksUntil(122_000, [18, 20])],
]

describe.each(['documented', 'experience', 'hunch'] as Grade[])('an author’s %s', (confidence) => {
  const pump = { key: 'pump', component: 'pump', failureMode: 'leaks', clock: 'distance', confidence }
  const drip = { key: 'drip', label: 'drip', kind: 'visual', leak: SIGN.leak }
  const library = libraryOf({
    families: [
      {
        key: 'plover-22',
        name: 'Plover 2.2',
        cylinders: 4,
        weakPoints: [{ ...pump, onset: { p10: 80_000, p50: 140_000 }, warning: 8_000 }],
        signs: [{ ...drip, causes: [{ weakPoint: 'pump', detect: SIGN.detect }] }],
      },
    ],
  })
  const weakPoint = library.families[0]!.weakPoints[0]!

  it.each(histories)('%s, at %d km', (name, km, looks) => {
    const unit = 'G1'
    const records = recordsOf({
      vehicles: [vehicleRow({ unit, family: 'plover-22', builtOn: FIRST_DAY, inServiceOn: FIRST_DAY })],
      readings: [0, km].map((odometerKm) => readingRow({ unit, readOn: dayAt(odometerKm), odometerKm })),
      checks: looks.map(({ km: odometerKm, seen }) =>
        checkRow({
          unit,
          checkedOn: dayAt(odometerKm),
          odometerKm,
          kind: 'visual',
          seen: seen ? [{ sign: 'drip', position: null }] : [],
        }),
      ),
    })
    const { vehicles } = scoreFleet({ records, library, asOf: dayAt(km), horizons: [{ km: AHEAD_KM }] })
    const scored = vehicles[0]!.components[0]!
    const exact = askPriorGrid(weakPoint, SIGN, looks, km, AHEAD_KM)
    checks[confidence].close(scored.pFail, exact.pFail, `${name} ${km}, fails`)
    checks[confidence].close(scored.pDeveloping, exact.pDeveloping, `${name} ${km}, develops`)
  })
})

for (const check of Object.values(checks)) check.done()
