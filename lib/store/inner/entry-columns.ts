import type { Entry } from '../entry'
import { columnsOf } from './columns'

/** What every row that is entered carries besides its contents. */
export const ENTRY_COLUMNS = columnsOf<{
  id: string
  enteredAt: Date
  enteredBy: string | null
  intakeId: string | null
}>({ id: 'uuid', enteredAt: 'instant', enteredBy: 'uuid', intakeId: 'uuid' })

/** The values of those columns, but for the id. */
export const entryFields = ({ now, by, intake = null }: Entry) => ({
  enteredAt: now,
  enteredBy: by,
  intakeId: intake,
})
