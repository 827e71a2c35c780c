import type { Database } from '../database'

/** Whether anybody has a password here: whether there has been a first owner. */
export async function readAnyPassword(database: Database): Promise<boolean> {
  const [found] = await database.$queryRaw<
    { there: boolean }[]
  >`select exists (select from accounts where password is not null) as there`
  return found?.there ?? false
}
