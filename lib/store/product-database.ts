import { z } from 'zod'
import { type Database, openDatabase } from './database'
import { PRODUCT_DATABASE_VARIABLE } from './product-database-variable'

const address = z.url({
  protocol: /^postgres(ql)?$/,
  error: 'Start the product with npm start or npm run dev',
})

const WEB_SERVER = { kind: 'server', name: 'web' } as const

const held = globalThis as typeof globalThis & { gudgeonDatabase?: Promise<Database> }

/**
 * The web server's one database, in nobody's hands yet: whoever is found to ask acts through a handle of their own
 * (`actingAs`). Asked for again after a failure, kept across reloads in development.
 */
export function productDatabase(): Promise<Database> {
  held.gudgeonDatabase ??= openDatabase(
    address.parse(process.env[PRODUCT_DATABASE_VARIABLE]),
    WEB_SERVER,
  ).catch((error) => {
    held.gudgeonDatabase = undefined
    throw error
  })
  return held.gudgeonDatabase
}
