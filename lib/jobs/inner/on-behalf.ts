import { actingAs, type Database } from '@/lib/store/database'

/** The database in the hands of whoever asked for the work; in those of the work itself where nobody did. */
export const onBehalf = (database: Database, by: string | null): Database =>
  by === null ? database : actingAs(database, { kind: 'person', id: by })
