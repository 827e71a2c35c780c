/** Free text that tells of work: cut into phrases, and what a phrase seems to stand for. */
import type { Family } from '@/lib/records/library'
import { actionIn, actionOf, foundIn, wordsOf } from './inner/trade-words'
import { weakPointOf } from './inner/weak-point-of'
import { phraseKey, type Tie } from './mapping'

export interface Phrase {
  key: string
  /** The first that was met, as it is written. */
  example: string
  count: number
}

/** The different phrases of a column, the commonest first; each counts once a cell. */
export function phrasesOf(values: readonly { text: string; count: number }[]): Phrase[] {
  const found = new Map<string, Phrase>()
  for (const { text, count } of values) {
    const inCell = new Map(splitPhrases(text).map((phrase) => [phraseKey(phrase), phrase]))
    for (const [key, example] of inCell) {
      const known = found.get(key)
      if (known) known.count += count
      else found.set(key, { key, example, count })
    }
  }
  return [...found.values()].sort((a, b) => b.count - a.count || (a.key < b.key ? -1 : 1))
}

const BETWEEN_JOBS = /[;\n\r•|]+/
/** What joins words; between figures it joins positions (`1 & 3`), and single letters belong together: `r&r`. */
const BETWEEN_WORDS =
  /(?<!\d\s*),|,(?!\s*\d)|(?<!\d\s*)\+|\+(?!\s*\d)|(?<!\d\s*)(?<!\b\p{L})&|&(?!\s*\d)(?!\p{L}\b)|(?<!\d)\s(?:and|und|et|y|plus|sowie)\s|\s(?:and|und|et|y|plus|sowie)\s(?!\d)/giu
const FIGURES_ALONE = /^(?:(?:cyl\w*|zyl\w*|no|nr|n°|nº|pos\w*|#)[.: #]*)?\d{1,2}(?:\s*[-/,&]\s*\d{1,2})*$/i

/** The phrases of one cell, each as it is written; what is no phrase of its own stays with its neighbour. */
export const splitPhrases = (text: string): string[] => text.split(BETWEEN_JOBS).flatMap(phrasesOfJob)

function phrasesOfJob(text: string): string[] {
  const pieces = text
    .split(BETWEEN_WORDS)
    .map((piece) => piece.replace(/\s+/g, ' ').trim())
    .filter((piece) => /[\p{L}\d]/u.test(piece))
  const phrases: string[] = []
  let waiting = ''
  for (const piece of pieces) {
    const before = phrases.at(-1)
    if (before !== undefined && FIGURES_ALONE.test(piece)) phrases[phrases.length - 1] = `${before}, ${piece}`
    else if (!tellsOfAct(piece)) {
      phrases.push(waiting === '' ? withVerb(piece, before) : `${waiting}, ${piece}`)
      waiting = ''
    } else if (before !== undefined) phrases[phrases.length - 1] = `${before}, ${piece}`
    else waiting = waiting === '' ? piece : `${waiting}, ${piece}`
  }
  return waiting === '' ? phrases : [...phrases, waiting]
}

/** Only what was done, and not to what: `tested ok`. */
const tellsOfAct = (piece: string): boolean => {
  const words = wordsOf(piece)
  return words.every((word) => actionOf(word) !== null || SMALL.has(word))
}
const SMALL = new Set(['ok', 'removed', 'refitted', 'refit', 'and', 'up', 'it', 'all', 'done', 'then', 'for'])

/** `checked inj & coil`: the coil was checked too. */
function withVerb(piece: string, before: string | undefined): string {
  const [verb = ''] = before?.split(' ') ?? []
  const [first = ''] = wordsOf(verb)
  return actionOf(first) !== null && actionIn(wordsOf(piece)) === null ? `${verb} ${piece}` : piece
}

const LISTED = String.raw`(\d{1,2}(?:\s*(?:,|/|&|\+|-|and|und|et|y)\s*\d{1,2})*)(?![\d.]*[.,]?\d)`
const BEHIND_A_WORD = new RegExp(
  String.raw`(?:\b(?:cyl\w*|zyl\w*|no|nr|num\w*|pos\w*|bank|bk)|#|n°|nº)[.: #]*${LISTED}`,
  'gi',
)
const ALONE = /(?<![\d.,\p{L}])\d{1,2}(?:\s*-\s*\d{1,2})?(?![\d\p{L}]|[.,]\d|\s?x\b)/gu

/** The positions that a phrase names: the figures behind "cyl", "no" or "#", else those that stand alone. */
export function positionsIn(phrase: string): number[] {
  const behind = [...phrase.matchAll(BEHIND_A_WORD)].map(([, list = '']) => list)
  const lists = behind.length > 0 ? behind : [...phrase.matchAll(ALONE)].map(([figure]) => figure)
  const found = lists.flatMap((list) =>
    (list.match(/\d+\s*-\s*\d+|\d+/g) ?? []).flatMap((part) => stretch(part)),
  )
  return [...new Set(found)].filter((n) => n > 0).sort((a, b) => a - b)
}

/** `1-4`: from the first to the last. */
function stretch(part: string): number[] {
  const [from = 0, to = from] = part.split('-').map(Number)
  return to < from ? [from, to] : Array.from({ length: to - from + 1 }, (_, i) => from + i)
}

const ALL = new Set([
  'all',
  'set',
  'alle',
  'satz',
  'jeu',
  'tous',
  'toutes',
  'todos',
  'todas',
  'juego',
  'complete',
])

/**
 * What a phrase seems to stand for: the weak point of each family whose words it has, what was done, how the old part
 * was, which one. Null where it names no weak point of any.
 */
export function guessTie(phrase: string, families: readonly Family[]): Tie | null {
  const words = wordsOf(phrase)
  const weakPoints = Object.fromEntries(
    families.flatMap((family) => {
      const key = weakPointOf(words, family)
      return key === null ? [] : [[family.key, key]]
    }),
  )
  if (Object.keys(weakPoints).length === 0) return null
  const said = actionIn(words)
  // A part alone was fitted, and one that failed was not left; one that is told to leak or to be good was looked at.
  const state = foundIn(words, 'inspect')
  const action = said ?? (state === '' || state === 'failed' ? 'renew' : 'inspect')
  const positions =
    positionsIn(phrase).length > 0 ? 'number' : words.some((word) => ALL.has(word)) ? 'all' : ''
  return { weakPoints, action, found: foundIn(words, action), positions }
}
