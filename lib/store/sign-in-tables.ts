import { prismaAdapter } from 'better-auth/adapters/prisma'
import type { Database } from './database'
import { newId } from './inner/new-id'

/** Where the sign-in library keeps people, sessions and passwords, and the ids that it gives them. */
export const signInTables = (database: Database) => ({
  database: prismaAdapter(database, { provider: 'postgresql' }),
  generateId: () => newId(new Date()),
})
