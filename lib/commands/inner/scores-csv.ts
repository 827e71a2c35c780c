import type { ComponentScore, FleetScores } from '@/lib/decisions/score-fleet'
import { csvLine } from '@/lib/intake/csv-line'
import { formatDay } from '@/lib/units/dates'

/** The columns of scores.csv, in order; their names are a contract with other people's scripts. */
const COLUMNS: readonly [string, (score: ComponentScore) => string | number | null][] = [
  ['unit', ({ unit }) => unit],
  ['weak_point', ({ weakPoint }) => weakPoint],
  ['position', ({ position }) => position],
  ['as_of', ({ asOf }) => formatDay(asOf)],
  ['horizon_days', ({ horizonDays }) => horizonDays],
  ['horizon_km', ({ horizonKm }) => horizonKm],
  ['p_fail', ({ pFail }) => pFail],
  ['p_low', ({ pLow }) => pLow],
  ['p_high', ({ pHigh }) => pHigh],
  ['p_developing', ({ pDeveloping }) => pDeveloping],
  ['remaining_km_p50', ({ remainingKmP50 }) => remainingKmP50],
  ['cost_of_waiting', ({ costOfWaiting }) => costOfWaiting],
  ['advice', ({ advice }) => advice],
]

/** Scores as CSV: numbers with all their digits, blank where there is none. One piece of text a vehicle. */
export function* scoresCsv({ vehicles }: FleetScores): Generator<string, void, undefined> {
  yield csvLine(COLUMNS.map(([name]) => name))
  for (const { components } of vehicles) {
    yield components.map((score) => csvLine(COLUMNS.map(([, value]) => value(score)))).join('')
  }
}
