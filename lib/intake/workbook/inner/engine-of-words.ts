import type { Family } from '@/lib/records/library'
import { wordKey } from '../mapping'

/** The words of an engine: `2.2`, `2,2 l` and `2200 cc` are one size, written `22`. */
function engineWords(text: string): string[] {
  const plain = text
    .toLowerCase()
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/(\d)[.,](\d)/g, '$1$2')
    .replace(/\b(\d\d)00 ?(?:cc|ccm|cm3)\b/g, '$1')
  return plain.match(/\p{L}+|\d+/gu) ?? []
}

const NAME_COUNTS = 2

/**
 * The engine that words name, as `family` or `family/variant`: by its key or name, else by the words that they share,
 * a name counting more than a size. Null where none shares any, or two share as much.
 */
export function engineOfWords(text: string, families: readonly Family[]): string | null {
  const key = wordKey(text)
  const inForce = families.filter(({ retired }) => !retired)
  const exact = inForce.find((family) => wordKey(family.key) === key || wordKey(family.name) === key)
  if (exact) return exact.key
  const said = new Set(engineWords(text))
  const ranked = inForce
    .map((family) => ({ family, shared: sharedWords(family, said) }))
    .filter(({ shared }) => shared > 0)
    .sort((a, b) => b.shared - a.shared)
  const [best, second] = ranked
  if (!best || best.shared === second?.shared) return null
  const variant = variantOf(best.family, key, said)
  return variant === null ? best.family.key : `${best.family.key}/${variant}`
}

const wordsOfFamily = new WeakMap<Family, ReadonlySet<string>>()

function sharedWords(family: Family, said: ReadonlySet<string>): number {
  const own = wordsOfFamily.get(family) ?? new Set([...engineWords(family.key), ...engineWords(family.name)])
  wordsOfFamily.set(family, own)
  let shared = 0
  for (const word of own) if (said.has(word)) shared += /\d/.test(word) ? 1 : NAME_COUNTS
  return shared
}

/** Engines have one version or none in their words; a version is named by its key or its whole name. */
function variantOf(family: Family, text: string, said: ReadonlySet<string>): string | null {
  const named = family.variants.filter(
    ({ key, name, retired }) => !retired && (said.has(key.toLowerCase()) || text.includes(wordKey(name))),
  )
  return named.length === 1 ? (named[0]?.key ?? null) : null
}
