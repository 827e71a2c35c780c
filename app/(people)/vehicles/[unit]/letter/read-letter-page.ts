import { readLetter } from '@/lib/jobs/letter'
import { customerKey } from '@/lib/records/customer-key'
import type { Database } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { readLetters, readOptOuts } from '@/lib/store/read/letters'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'

/** What the page of a letter shows; null where the vehicle is no customer's, or not scored. */
export function readLetterPage(
  { database, organisation }: { database: Database; organisation: OrganisationId },
  unit: string,
  now: Date,
) {
  return withOrganisation(database, organisation, async (scope) => {
    const found = await readLetter(scope, unit, now)
    if (!found) return null
    const { customer } = found.row
    const key = customer === null ? null : customerKey(customer)
    const isTheirs = (each: { customerKey: string }) => each.customerKey === key
    return {
      ...found,
      terms: await readTerms(scope),
      /** Letters to the present owner; what an earlier one was written is theirs. */
      written: (await readLetters(scope)).filter((each) => each.unit === unit && isTheirs(each)),
      optOut: (await readOptOuts(scope)).find(isTheirs) ?? null,
    }
  })
}
