import type { Family, Library } from './library'

/** What one list of named things has that the other has not, by the words that people know each by. */
export type ListChange = { added: string[]; gone: string[]; changed: string[] }

/** What becomes of an engine family. */
export type FamilyChange = { name: string } & (
  | { change: 'added' | 'gone' }
  | {
      change: 'changed'
      weakPoints: ListChange
      signs: ListChange /** Anything else about it. */
      rest: boolean
    }
)

/**
 * What another library changes, family by family; families that stay as they are are left out.
 *
 * @param before null where there is none yet
 */
export function libraryChanges(before: Library | null, next: Library): FamilyChange[] {
  const old = new Map((before?.families ?? []).map((family) => [family.key, family]))
  const kept = new Set(next.families.map(({ key }) => key))
  return [
    ...next.families.flatMap((family) => changeOf(old.get(family.key), family)),
    ...[...old.values()]
      .filter(({ key }) => !kept.has(key))
      .map(({ name }) => ({ name, change: 'gone' as const })),
  ]
}

function changeOf(old: Family | undefined, family: Family): FamilyChange[] {
  const { name } = family
  if (old === undefined) return [{ name, change: 'added' }]
  if (same(old, family)) return []
  const weakPoints = listChange(old.weakPoints, family.weakPoints, ({ component }) => component)
  const signs = listChange(old.signs, family.signs, ({ label }) => label)
  const rest = !same({ ...old, weakPoints: [], signs: [] }, { ...family, weakPoints: [], signs: [] })
  return [{ name, change: 'changed', weakPoints, signs, rest }]
}

function listChange<Item extends { key: string }>(
  before: readonly Item[],
  next: readonly Item[],
  nameOf: (item: Item) => string,
): ListChange {
  const old = new Map(before.map((item) => [item.key, item]))
  const kept = new Set(next.map(({ key }) => key))
  return {
    added: next.filter(({ key }) => !old.has(key)).map(nameOf),
    gone: before.filter(({ key }) => !kept.has(key)).map(nameOf),
    changed: next.filter((item) => old.has(item.key) && !same(old.get(item.key), item)).map(nameOf),
  }
}

/** Both come out of the same schema, so that equal things are written alike. */
const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b)
