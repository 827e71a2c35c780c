import { type StartedDatabase, startDatabase } from '@/lib/store/start-database'
import { parseEnvironment } from '../environment'
import { BadArgument } from './bad-argument'

/** Where the database of a command is: its own surroundings, replaced in tests. */
export type Variables = Record<string, string | undefined>

/** Brings the database up (or joins it where the product runs), and lets go of it afterwards. */
export async function withDatabase<T>(
  variables: Variables,
  work: (started: StartedDatabase) => Promise<T>,
): Promise<T> {
  const parsed = parseEnvironment(variables)
  if (!parsed.ok) throw new BadArgument(parsed.message)
  const started = await startDatabase(parsed.environment)
  try {
    return await work(started)
  } finally {
    await started.stop()
  }
}
