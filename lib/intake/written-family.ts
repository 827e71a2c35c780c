import type { Family, Library } from '@/lib/records/library'
import type { FamilyDraft } from './family-draft'

/** A family as a library file writes it; what goes without saying is left out. Read again, it is the same. */
export function writtenFamily(family: Family): FamilyDraft {
  const signs = family.signs.map(({ positioned, positions, ...sign }) => {
    const followsFromCodes = sign.codes.some((each) => each.includes('#')) && positions === family.cylinders
    return positioned && !followsFromCodes ? { ...sign, positions } : sign
  })
  return { ...lean({ ...family, signs }), weakPoints: family.weakPoints.map(lean) } as FamilyDraft
}

/** Nothing, no and an empty list are what the format has where a key is left out. */
function lean(value: object): object {
  const members = Object.entries(value).flatMap(([name, member]) => {
    const unsaid = member === null || member === undefined || member === false
    if (unsaid || (Array.isArray(member) && member.length === 0)) return []
    return [[name, Array.isArray(member) ? member.map(leanMember) : member]]
  })
  return Object.fromEntries(members)
}

const leanMember = (member: unknown): unknown =>
  typeof member === 'object' && member !== null ? lean(member) : member

/** Whether a family says anything in money. */
export const statesMoney = ({ weakPoints }: Family): boolean =>
  weakPoints.some(({ cost }) => cost.parts > 0 || cost.failureExtra > 0)

/**
 * One family as a library file of its own, to be given to others. What work, a day off the road, a visit and a look cost
 * is the organisation's alone and is not in it; what its parts cost is, in the currency that it names.
 *
 * @param currency what the organisation reckons in; null where nobody has said
 */
export function sharedFamily(
  { name, zones }: Pick<Library, 'name' | 'zones'>,
  family: Family,
  currency: string | null,
): string {
  const named = new Set([...family.weakPoints, ...family.signs].map(({ zone }) => zone))
  const walk = zones.filter((zone) => named.has(zone))
  const file = {
    format: 'gudgeon-library/1',
    name,
    ...(currency !== null && { currency }),
    ...(walk.length > 0 && { zones: walk }),
    families: [writtenFamily(family)],
  }
  return `${JSON.stringify(file, null, 2)}\n`
}
