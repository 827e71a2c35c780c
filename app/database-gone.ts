import { isDatabaseGone } from '@/lib/store/database-gone'
import { DATABASE_GONE } from './database-gone-digest'

/** What reads the first of a page; where the database does not answer, the failure says so. */
export async function fromDatabase<T>(read: () => Promise<T>): Promise<T> {
  try {
    return await read()
  } catch (error) {
    if (isDatabaseGone(error)) Object.assign(error as Error, { digest: DATABASE_GONE })
    throw error
  }
}
