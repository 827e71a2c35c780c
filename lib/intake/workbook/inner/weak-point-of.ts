import type { Family, WeakPoint } from '@/lib/records/library'
import { actionOf, isPart, isState, partWord, weightOf, wordsOf } from './trade-words'

/** Less than this share of a part's own words does not name it. */
const LEAST_NAMED = 0.5

/**
 * The weak point of a family that words name: what the part is called at the end ("gasket" of "vacuum pump gasket") is
 * among them, and no word names another part. Of several with the same part, the one whose failure they tell.
 *
 * @returns null where none is named, or two are alike
 */
export function weakPointOf(words: readonly string[], family: Family): string | null {
  const said = new Set(words.filter((word) => !/^\d+$/.test(word)).map(partWord))
  const parts = new Set(
    words.filter((word) => isPart(word) && actionOf(word) === null && !isState(word)).map(partWord),
  )
  const named = family.weakPoints
    .filter((point) => !point.retired)
    .map((point) => ({ key: point.key, ...likeness(point, said, parts) }))
    .filter(({ share }) => share >= LEAST_NAMED)
    .sort((a, b) => b.share - a.share || b.failure - a.failure)
  const [best, second] = named
  if (!best || (second && second.share === best.share && second.failure === best.failure)) return null
  return best.key
}

interface Names {
  /** The words of what it is called, and of its key. */
  ways: string[][]
  failure: string[]
  known: ReadonlySet<string>
}

/** Thousands of phrases are held against the same weak points. */
const namesOf = new WeakMap<WeakPoint, Names>()

function names(point: WeakPoint): Names {
  const made = namesOf.get(point)
  if (made) return made
  const ways = [point.component, point.key].map((name) => wordsOf(name).map(partWord))
  const failure = wordsOf(point.failureMode).map(partWord)
  const all = { ways, failure, known: new Set([...ways.flat(), ...failure]) }
  namesOf.set(point, all)
  return all
}

function likeness(point: WeakPoint, said: ReadonlySet<string>, parts: ReadonlySet<string>) {
  const { ways, failure, known } = names(point)
  const isOther = [...parts].some((part) => !known.has(part))
  const share = isOther ? 0 : Math.max(...ways.map((name) => shareNamed(name, said)))
  if (share < LEAST_NAMED) return { share, failure: 0 }
  const stems = new Set([...said].map(stemOf))
  return { share, failure: failure.filter((word) => stems.has(stemOf(word))).length }
}

/** `leaks`, `leaked` and `leaking` tell the same. */
const stemOf = (word: string): string => word.replace(/(?:ing|ed|es|e|s)$/, '')

/** The share of a name's words that were said; 0 where the last of them was not. */
function shareNamed(name: readonly string[], said: ReadonlySet<string>): number {
  const last = name.findLast((word) => !/^\d+$/.test(word))
  if (last === undefined || !said.has(last)) return 0
  const weigh = (words: readonly string[]) => words.reduce((sum, word) => sum + weightOf(word), 0)
  return weigh(name.filter((word) => said.has(word))) / weigh(name)
}
