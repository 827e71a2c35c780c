import { z } from 'zod'
import { type Database, openDatabase } from './database'
import { PRODUCT_DATABASE_VARIABLE } from './product-database-variable'

const address = z.url({
  protocol: /^postgres(ql)?$/,
  error: 'Start the product with npm start or npm run dev',
})

const held = globalThis as typeof globalThis & { gudgeonDatabase?: Promise<Database> }

/** The web server's one database; asked for again after a failure, kept across reloads in development. */
export function productDatabase(): Promise<Database> {
  held.gudgeonDatabase ??= openDatabase(address.parse(process.env[PRODUCT_DATABASE_VARIABLE])).catch(
    (error) => {
      held.gudgeonDatabase = undefined
      throw error
    },
  )
  return held.gudgeonDatabase
}
