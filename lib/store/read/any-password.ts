import type { Database } from '../database'

/** Whether anybody has a password here: whether there has been a first owner. */
export async function readAnyPassword(database: Database): Promise<boolean> {
  const [found] = await database.$queryRaw<{ any: boolean }[]>`select exists (select from accounts) as any`
  return found?.any ?? false
}
