import type { Family } from '@/lib/records/library'

/**
 * A three-way merge by another way: families as trees of named nodes with leaves, merged from the root down. Fields that
 * make one statement are one leaf. One's own side stands in a conflict.
 */
export type Tree = { leaves: Record<string, unknown>; nodes: Record<string, Tree> }

export function treeOf(family: Family): Tree {
  const nodes: Record<string, Tree> = {}
  for (const { key, ...variant } of family.variants) nodes[`variant ${key}`] = { leaves: variant, nodes: {} }
  for (const {
    key,
    revisions,
    variants,
    onset,
    confidence,
    statedBy,
    statedOn,
    ...point
  } of family.weakPoints) {
    const { cost, duty, ...plain } = point
    const inner: Record<string, Tree> = {}
    for (const { key: own, ...revision } of revisions) inner[`revision ${own}`] = leaf(revision)
    for (const [own, effect] of Object.entries(variants)) inner[`effect ${own}`] = leaf(effect)
    const together = { life: { onset, confidence }, stated: { statedBy, statedOn } }
    nodes[`weakPoint ${key}`] = { leaves: { ...plain, ...cost, ...duty, ...together }, nodes: inner }
  }
  for (const { key, causes, ...sign } of family.signs) {
    const inner = Object.fromEntries(
      causes.map(({ weakPoint, detect }) => [`cause ${weakPoint}`, leaf(detect)]),
    )
    nodes[`sign ${key}`] = { leaves: sign, nodes: inner }
  }
  for (const { from, to, strength } of family.upstream) nodes[`link ${from} ${to}`] = leaf(strength)
  const { name, cylinders, retired } = family
  return { leaves: { name, cylinders, retired }, nodes }
}

const leaf = (whole: unknown): Tree => ({ leaves: { whole }, nodes: {} })

export function mergedTree(base: Tree | null, mine: Tree, theirs: Tree): Tree {
  return withoutHanging(merged(base, mine, theirs)!)
}

function merged(base: Tree | null, mine: Tree | null, theirs: Tree | null): Tree | null {
  if (!mine || !theirs) {
    if (!base) return mine ?? theirs
    return same(base, mine ?? theirs) ? null : mine
  }
  const leaves: Tree['leaves'] = {}
  for (const name of Object.keys(mine.leaves)) {
    const [b, m, t] = [base?.leaves[name], mine.leaves[name], theirs.leaves[name]]
    leaves[name] = base && same(b, m) ? t : m
  }
  const nodes: Tree['nodes'] = {}
  for (const name of new Set([...Object.keys(mine.nodes), ...Object.keys(theirs.nodes)])) {
    const node = merged(base?.nodes[name] ?? null, mine.nodes[name] ?? null, theirs.nodes[name] ?? null)
    if (node) nodes[name] = node
  }
  return { leaves, nodes }
}

function withoutHanging(tree: Tree): Tree {
  const there = (name: string) => name in tree.nodes
  const nodes: Tree['nodes'] = {}
  for (const [name, node] of Object.entries(tree.nodes)) {
    const [kind, from, to] = name.split(' ')
    if (kind === 'link' && !(there(`weakPoint ${from}`) && there(`weakPoint ${to}`))) continue
    const inner = Object.entries(node.nodes).filter(([own]) => {
      const [what, key] = own.split(' ')
      return what === 'revision' || there(`${what === 'effect' ? 'variant' : 'weakPoint'} ${key}`)
    })
    nodes[name] = { leaves: node.leaves, nodes: Object.fromEntries(inner) }
  }
  return { leaves: tree.leaves, nodes }
}

/** Whatever the order of names. */
const same = (a: unknown, b: unknown): boolean => JSON.stringify(sorted(a)) === JSON.stringify(sorted(b))

function sorted(value: unknown): unknown {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return value
  return Object.fromEntries(
    Object.entries(value)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([name, inner]) => [name, sorted(inner)]),
  )
}
