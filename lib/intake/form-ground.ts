import type { Family } from '@/lib/records/library'
import type { Day } from '@/lib/units/dates'
import type { TableKind } from './tables'

/** What is wrong with one field of a form; it says what to do. */
export type Slip = { field: string; message: string }

/** What was found on every one of several positions. */
export const ON_EACH = 'each'

/** Rows with the columns of a file, as they came of a form. */
export type GivenObjects = Partial<Record<TableKind, object[]>>

/** Which vehicle, on which day, at which odometer: what every row of one entry shares. */
export type Occasion = { unit: string; on: string; odometer_km: number | '' }

/** The vehicle that a form is about, with its engine; null where the library does not have it. */
export type EntryGround = { unit: string; family: Family | null; today: Day; distance: 'km' | 'mi' }
