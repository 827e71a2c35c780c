import type { ComponentScore } from '@/lib/decisions/score-fleet'
import { formatDay } from '@/lib/units/dates'
import { csvLine } from './csv-line'

type Cell = string | number | null

/** The columns of scores.csv, in order; their names are a contract with other people's scripts. */
const COLUMNS = {
  unit: ({ unit }) => unit,
  weak_point: ({ weakPoint }) => weakPoint,
  position: ({ position }) => position,
  as_of: ({ asOf }) => formatDay(asOf),
  horizon_days: ({ horizonDays }) => horizonDays,
  horizon_km: ({ horizonKm }) => horizonKm,
  p_fail: ({ pFail }) => pFail,
  p_low: ({ pLow }) => pLow,
  p_high: ({ pHigh }) => pHigh,
  p_developing: ({ pDeveloping }) => pDeveloping,
  remaining_km_p50: ({ remainingKmP50 }) => remainingKmP50,
  cost_of_waiting: ({ costOfWaiting }) => costOfWaiting,
  advice: ({ advice }) => advice,
} satisfies Record<string, (score: ComponentScore) => Cell>

export type ScoreColumn = keyof typeof COLUMNS
export const SCORE_COLUMNS = Object.keys(COLUMNS) as ScoreColumn[]

/** A score by the names of its columns. */
export const scoreObject = (score: ComponentScore): Record<ScoreColumn, Cell> =>
  Object.fromEntries(SCORE_COLUMNS.map((name) => [name, COLUMNS[name](score)])) as Record<ScoreColumn, Cell>

/** The first line of scores.csv. */
export const scoresHeader = (): string => csvLine(SCORE_COLUMNS)

/** Scores as lines of scores.csv: numbers with all their digits, blank where there is none. */
export const scoreLines = (scores: readonly ComponentScore[]): string =>
  scores.map((score) => csvLine(SCORE_COLUMNS.map((name) => COLUMNS[name](score)))).join('')
