import type { Thing } from './library-things'

/** A key of a family that records name; `of` is the weak point of a revision. */
export type NamedKey = { kind: 'variant' | 'weakPoint' | 'revision' | 'sign'; of: string | null; key: string }

/** What of a family would refer to something that is not among its things. */
export function hangsOnNothing(things: readonly Thing[]): Thing[] {
  const there = (kind: Thing['kind'], key: string | undefined) =>
    things.some((thing) => thing.kind === kind && thing.keys[0] === key)
  return things.filter(({ kind, keys: [first, second] }) => {
    if (kind === 'effect') return !there('variant', second)
    if (kind === 'cause') return !there('weakPoint', second)
    return kind === 'link' && !(there('weakPoint', first) && there('weakPoint', second))
  })
}

/**
 * The things with those that records name and that are gone: as they were, retired, with what lies within them, at the
 * end. A sign leaves its codes to whichever has them now.
 */
export function retire(
  things: readonly Thing[],
  before: readonly Thing[],
  inUse: readonly NamedKey[],
): { things: Thing[]; retired: Thing[] } {
  const next = [...things]
  const retired: Thing[] = []
  // A weak point comes back with its versions, so that it goes first.
  for (const { kind, of, key } of [...inUse].sort((a, b) => ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind))) {
    const keys = JSON.stringify(of === null ? [key] : [of, key])
    const was = before.find((thing) => thing.kind === kind && JSON.stringify(thing.keys) === keys)
    if (!was || next.some(({ id }) => id === was.id)) continue
    retired.push(was)
    next.push(asRetired(was, next), ...before.filter(({ within }) => within === was.id))
  }
  return { things: next, retired }
}

const ORDER: readonly NamedKey['kind'][] = ['variant', 'weakPoint', 'revision', 'sign']

function asRetired(thing: Thing, others: readonly Thing[]): Thing {
  const taken = others.flatMap(({ fields }) =>
    fields.flatMap(([field, value]) => (field === 'codes' && Array.isArray(value) ? value : [])),
  )
  const fields = thing.fields.map(([field, value]) => {
    if (field === 'retired') return [field, true] as const
    if (field !== 'codes' || !Array.isArray(value)) return [field, value] as const
    return [field, value.filter((code) => !taken.includes(code))] as const
  })
  return { ...thing, fields }
}
