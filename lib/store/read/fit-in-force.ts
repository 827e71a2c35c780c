import type { OrganisationScope } from '../with-organisation'

/** What was learned, as `fit.json` holds it. */
export type StoredFit = { id: string; content: string }

/** Which fit is in force, without what it holds; null before the first. */
export async function readFitId({ tx }: OrganisationScope): Promise<string | null> {
  const [found] = await tx.$queryRaw<{ id: string }[]>`
    select id::text from fits order by made_at desc, id desc limit 1`
  return found?.id ?? null
}

/** The latest of what the organisation's records taught; null before the first. */
export async function readFitInForce({ tx }: OrganisationScope): Promise<StoredFit | null> {
  const [found] = await tx.$queryRaw<StoredFit[]>`
    select id::text, content from fits order by made_at desc, id desc limit 1`
  return found ?? null
}
