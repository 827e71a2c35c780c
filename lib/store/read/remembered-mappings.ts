import type { Mapping } from '@/lib/intake/workbook/mapping'
import type { OrganisationScope } from '../with-organisation'

/** Older ones say nothing that these do not. */
const MOST_REMEMBERED = 20

/** What was said of earlier workbooks that were brought in, the latest first. */
export async function readRememberedMappings({ tx }: OrganisationScope): Promise<Mapping[]> {
  const rows = await tx.$queryRaw<{ mapping: Mapping }[]>`
    select mapping from workbooks where mapping is not null and intake_id is not null
    order by made_at desc, id desc limit ${MOST_REMEMBERED}`
  return rows.map(({ mapping }) => mapping)
}
