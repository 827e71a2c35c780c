import { z } from 'zod'

/** The entry of a backup that says what is in it; every table is an entry of its own beside it. */
export const MANIFEST = 'backup.json'

export const tableEntry = (table: string) => `tables/${table}.copy`

export const manifestSchema = z.object({
  format: z.literal('gudgeon-backup/1'),
  madeAt: z.iso.datetime(),
  /** What the tables look like: the migrations that had been applied, in order. */
  migrations: z.array(z.string()),
  /** Each table's rows in PostgreSQL's COPY text, and their SHA-256 in hexadecimal. */
  tables: z.array(
    z.object({
      name: z.string(),
      columns: z.array(z.string()),
      rows: z.number().int().min(0),
      sha256: z.string().regex(/^[0-9a-f]{64}$/),
    }),
  ),
})

export type Manifest = z.output<typeof manifestSchema>
export type SavedTable = Manifest['tables'][number]
