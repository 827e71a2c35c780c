import type { PartGroup } from '@/lib/decisions/early-failures'
import { type EarlyPart, earlyPartsNow } from '@/lib/jobs/early-parts'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'
import { notYet, type Twin } from '../twins/answer-twin'
import { told } from '../twins/twin'

/** Suppliers' or batches' parts that went earlier than their kind lets expect, the least likely first. */
export const earlyTwin: Twin = async ({ database, organisation, now }) => {
  const { timeZone } = await withOrganisation(database, organisation, readTerms)
  const { found } = await earlyPartsNow(database, organisation, now)
  if (found === null) return notYet('Parts are still being gone through: ask again in a moment.')
  return told<PartGroup<EarlyPart>>(
    'early-parts',
    dayIn(timeZone, now),
    [
      ['part', 'Part', ({ part }) => part],
      ['name', 'Weak point', ({ parts }) => parts[0]?.name ?? null],
      ['supplier', 'Supplier', ({ supplier }) => supplier],
      ['batch', 'Batch', ({ batch }) => batch],
      ['put_in', 'Put in', ({ parts }) => parts.length],
      ['gone', 'Went', ({ gone }) => gone],
      ['expected', 'Expected', ({ expected }) => expected],
      ['chance', 'By chance alone', ({ chance }) => chance],
      ['chance_among_all', 'By chance alone, among all groups', ({ chanceAmongAll }) => chanceAmongAll],
    ],
    found.alarms,
  )
}
