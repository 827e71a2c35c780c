import type { OrganisationScope } from '../with-organisation'

/** What was learned, as `fit.json` holds it. */
export type StoredFit = { id: string; content: string }

/** The latest of what the organisation's records taught; null before the first. */
export async function readFitInForce({ tx }: OrganisationScope): Promise<StoredFit | null> {
  const [found] = await tx.$queryRaw<StoredFit[]>`
    select id::text, content from fits order by made_at desc, id desc limit 1`
  return found ?? null
}
