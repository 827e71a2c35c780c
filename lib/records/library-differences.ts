import { type Field, libraryThings, type Stated, type Thing } from './inner/library-things'
import type { Family, Library } from './library'

export type { Field, Stated } from './inner/library-things'

/**
 * What two libraries say differently, thing by thing and field by field: what changed in one, what only one has.
 * Things are the same where they have the same key.
 */

export type FieldChange = { field: Field; before: Stated; after: Stated }

export type Difference = Pick<Thing, 'kind' | 'name' | 'clock'> &
  ({ change: 'added' | 'gone' } | { change: 'changed'; fields: FieldChange[] })

/**
 * What another library says differently; what is the same in both is left out.
 *
 * @param before null where there is none yet
 */
export function libraryDifferences(before: Library | null, next: Library): Difference[] {
  const [old, now] = [before ? libraryThings(before) : [], libraryThings(next)]
  const [oldById, nowById] = [byId(old), byId(now)]
  const whole = (thing: Thing, others: ReadonlyMap<string, Thing>) =>
    thing.within !== null && !others.has(thing.within)
  const told = now.flatMap((thing): Difference[] => {
    const was = oldById.get(thing.id)
    if (was) return changed(was, thing)
    return whole(thing, oldById) ? [] : [{ ...named(thing), change: 'added' }]
  })
  const gone = old.flatMap((thing): Difference[] =>
    nowById.has(thing.id) || whole(thing, nowById) ? [] : [{ ...named(thing), change: 'gone' }],
  )
  return [...told, ...gone]
}

/** The same for one family of two libraries. */
export function familyDifferences(before: Family, next: Family): Difference[] {
  const library = (family: Family): Library => ({ ...EMPTY, families: [family] })
  return libraryDifferences(library(before), library(next))
}

const EMPTY: Omit<Library, 'families'> = {
  format: 'gudgeon-library/1',
  name: '',
  currency: null,
  labourRate: 0,
  dayOffRoad: 0,
  visit: 0,
  slotDays: 0,
  zones: [],
  looks: { scan: { hours: 0 }, visual: { hours: 0 }, road: { hours: 0 }, measure: { hours: 0 } },
}

const byId = (things: readonly Thing[]) => new Map(things.map((thing) => [thing.id, thing]))

const named = ({ kind, name, clock }: Thing) => ({ kind, name, clock })

function changed(was: Thing, thing: Thing): Difference[] {
  const before = new Map(was.fields)
  const fields = thing.fields.flatMap(([field, after]): FieldChange[] => {
    const old = before.get(field) ?? null
    return JSON.stringify(old) === JSON.stringify(after) ? [] : [{ field, before: old, after }]
  })
  return fields.length === 0 ? [] : [{ ...named(thing), change: 'changed', fields }]
}
