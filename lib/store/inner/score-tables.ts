import type { ComponentScore, VehicleScore } from '@/lib/decisions/score-fleet'
import type { VisitChoice } from '@/lib/decisions/visit-choice'
import type { Day } from '@/lib/units/dates'
import { type Column, columnsOf } from './columns'

/** What every score carries besides its own fields. */
type Origin = { asOf: Day; libraryVersion: number; horizonDays: number }

/** The component that leads a vehicle's row, under the names that the row has for it. */
export type Leading = {
  leadingWeakPoint: string
  leadingName: string
  leadingPosition: number
  leadingPlace: string | null
} & Pick<ComponentScore, 'pFail' | 'pLow' | 'pHigh' | 'costOfWaiting' | 'speaks'>

export type VehicleScoreRow = Omit<VehicleScore, 'horizons' | 'components' | 'odometerKm' | 'kmPerDay'> &
  Origin & {
    visit: VisitChoice | null
    odometerKm: number | null
    kmPerDay: number | null
    scoredAt: Date
    recordsVersion: bigint
    familyName: string
    combined: number | null
  } & Partial<Leading>

export const VEHICLE_SCORE_COLUMNS: Column[] = columnsOf<VehicleScoreRow>({
  horizonDays: 'int',
  asOf: 'day',
  libraryVersion: 'int',
  recordsVersion: 'bigint',
  scoredAt: 'instant',
  assessed: 'bool',
  familyName: 'text',
  odometerKm: 'float',
  odometerReadOn: 'day',
  odometerEstimated: 'bool',
  kmPerDay: 'float',
  standing: 'bool',
  combined: 'float',
  advice: 'text',
  lastFullScanOn: 'day',
  lastLookedAtOn: 'day',
  weakPointsCovered: 'int',
  looks: 'json',
  visit: 'json',
  leadingWeakPoint: 'text',
  leadingName: 'text',
  leadingPosition: 'int',
  leadingPlace: 'text',
  pFail: 'float',
  pLow: 'float',
  pHigh: 'float',
  costOfWaiting: 'float',
  speaks: 'text',
})

export type ComponentScoreRow = Omit<ComponentScore, 'horizonDays' | 'horizonKm'> & Origin

export const COMPONENT_SCORE_COLUMNS: Column[] = columnsOf<ComponentScoreRow>({
  weakPoint: 'text',
  position: 'int',
  horizonDays: 'int',
  asOf: 'day',
  libraryVersion: 'int',
  pFail: 'float',
  pLow: 'float',
  pHigh: 'float',
  pDeveloping: 'float',
  remainingKmP50: 'float',
  costOfWaiting: 'float',
  waitingLow: 'float',
  waitingHigh: 'float',
  advice: 'text',
  speaks: 'text',
})
