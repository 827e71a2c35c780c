import { familyOfThings } from './inner/family-of-things'
import { familyThings, type Thing } from './inner/library-things'
import type { ChangedBy, Choices, Decided, MergeChange, Side, Versions } from './inner/merge-change'
import { decideFields } from './inner/merge-fields'
import { mergedOrder } from './inner/merged-order'
import { hangsOnNothing, type NamedKey, retire } from './inner/merged-references'
import type { Family } from './library'

/**
 * Somebody else's statement of an engine family taken into one's own: a three-way merge over what was taken in from
 * there before. What only one of the two changed since is taken from that one; what both changed is a conflict, in which
 * one's own stands until somebody decides otherwise. Every single change may be decided otherwise.
 */

export type { ChangedBy, Choices, MergeChange, MergedField, Side } from './inner/merge-change'
export type { NamedKey } from './inner/merged-references'

export type MergedFamily = {
  family: Family
  changes: MergeChange[]
  /** What would hang on something that is not there any more, and is left out with it. */
  lost: Pick<Thing, 'kind' | 'name'>[]
  /** What would be gone, and stays for the records that name it alone. */
  retired: Pick<Thing, 'kind' | 'name'>[]
}

/**
 * Merges what somebody else states of a family into one's own. The result has the shape of a family, with every
 * reference in it to something that is there; whether a library with it is valid (codes of two signs, damage that goes
 * round in a circle) is for `parseLibrary` to say.
 *
 * @param base what was taken in from there last time; null where nothing was, and then every difference is a conflict
 * @param theirs under whichever key: it is merged under that of `mine`
 * @param inUse keys that records name; of these none goes, as retired at least
 */
export function mergeFamily({
  base,
  mine,
  theirs,
  choices = {},
  inUse = [],
}: {
  base: Family | null
  mine: Family
  theirs: Family
  choices?: Choices
  inUse?: readonly NamedKey[]
}): MergedFamily {
  const { key } = mine
  const versions = {
    base: base && thingsById({ ...base, key }),
    mine: thingsById(mine),
    theirs: thingsById({ ...theirs, key }),
  }
  const order = mergedOrder(
    versions.base && [...versions.base.keys()],
    [...versions.mine.keys()],
    [...versions.theirs.keys()],
  )
  const changes: MergeChange[] = []
  const merged = new Map<string, Thing>()
  for (const id of order) {
    const [own, other] = [versions.mine.get(id), versions.theirs.get(id)]
    const decided = own && other ? decideFields(id, versions, choices) : decideThing(id, versions, choices)
    changes.push(...decided.changes)
    if (decided.thing) merged.set(id, decided.thing)
  }
  const withOwner = [...merged.values()].filter(({ within }) => within === null || merged.has(within))
  const kept = retire(withOwner, [...versions.mine.values()], inUse)
  const lost = hangsOnNothing(kept.things)
  return {
    family: familyOfThings(
      key,
      kept.things.filter((thing) => !lost.includes(thing)),
    ),
    changes,
    lost: lost.map(named),
    retired: kept.retired.map(named),
  }
}

const thingsById = (family: Family) => new Map(familyThings(family).map((thing) => [thing.id, thing]))

const named = ({ kind, name }: Thing) => ({ kind, name })

/** What becomes of something that is on one side only. */
function decideThing(id: string, versions: Versions, choices: Choices): Decided {
  const stands = versions.mine.has(id) ? 'mine' : 'theirs'
  const thing = versions[stands].get(id)!
  const apart = stands === 'mine' ? 'theirs' : 'mine'
  // What lies within something that the other side does not have goes or stays with it.
  if (thing.within !== null && !versions[apart].has(thing.within)) return { thing, changes: [] }
  const by = versions.base === null ? 'both' : whoChanged(id, versions.base, versions[stands], stands, apart)
  const taken = choices[id] ?? (by === 'theirs' ? 'theirs' : 'mine')
  const { kind, name, clock } = thing
  const clocks = { mine: clock, theirs: clock }
  return {
    thing: taken === stands ? thing : null,
    changes: [{ id, kind, name, by, taken, clocks, stands, fields: [] }],
  }
}

function whoChanged(
  id: string,
  base: ReadonlyMap<string, Thing>,
  here: ReadonlyMap<string, Thing>,
  stands: Side,
  apart: Side,
): ChangedBy {
  if (!base.has(id)) return stands
  return saysOf(id, base) === saysOf(id, here) ? apart : 'both'
}

/** All that is said of something and of what lies within it, whatever the order. */
function saysOf(id: string, things: ReadonlyMap<string, Thing>): string {
  const all = [...things.values()].filter((thing) => thing.id === id || thing.within === id)
  return JSON.stringify(all.map((thing) => JSON.stringify([thing.id, thing.fields])).sort())
}
