import { type Mapping, type Meaning, saidOf, wordKey } from '@/lib/intake/workbook/mapping'
import type { WorkbookProfile } from '@/lib/intake/workbook/profile'
import type { Family } from '@/lib/records/library'
import { DUTIES } from '../../../../ui/library-words'
import {
  ACTIONS,
  BECAUSE,
  CHANGES,
  CODE_STATES,
  FOUND,
  HISTORIES,
  LOOKS,
  PAID_BY,
  STATUSES,
} from '../../../../ui/record-words'

/** A text and in how many rows it stands. */
export type Counted = { text: string; count: number }

/** The different texts of all columns that have a meaning, the commonest first. */
export function wordsOf(profile: WorkbookProfile, mapping: Mapping, meaning: Meaning): Counted[] {
  const found = new Map<string, Counted>()
  for (const { name, columns } of profile.sheets) {
    const said = mapping.sheets[name]
    if (!said || said.tells.length === 0) continue
    for (const { key, values } of columns) {
      if (said.columns[key]?.meaning !== meaning) continue
      for (const { text, count } of values) {
        const known = found.get(wordKey(text))
        if (known) known.count += count
        else found.set(wordKey(text), { text, count })
      }
    }
  }
  return [...found.values()].sort((a, b) => b.count - a.count || a.text.localeCompare(b.text))
}

/** How many different words of a meaning there are, and how many of them stand for nothing yet. */
export function tiedCounts(profile: WorkbookProfile, mapping: Mapping, meaning: Meaning) {
  const words = wordsOf(profile, mapping, meaning)
  const said = mapping.values[meaning]
  return { words: words.length, open: words.filter(({ text }) => !saidOf(said, wordKey(text))).length }
}

/** What a word may stand for. */
export type Target = { value: string; label: string }

/** What words of a meaning may stand for. */
export function targetsOf(meaning: Meaning, families: readonly Family[]): Target[] {
  if (meaning === 'engine')
    return families.flatMap(({ key, name, variants }) => [
      { value: key, label: name },
      ...variants.map((variant) => ({ value: `${key}/${variant.key}`, label: `${name}, ${variant.name}` })),
    ])
  if (meaning === 'version')
    return families.flatMap(({ name, variants }) =>
      variants.map((variant) => ({ value: variant.key, label: `${name}, ${variant.name}` })),
    )
  if (meaning === 'signs') return oneOfEach(families.flatMap(({ signs }) => signs))
  return Object.entries(CLOSED[meaning] ?? {}).map(([value, label]) => ({ value, label }))
}

/** Signs of the same key in several families are one choice. */
function oneOfEach(signs: readonly { key: string; label: string }[]): { value: string; label: string }[] {
  const labels = new Map<string, Set<string>>()
  for (const { key, label } of signs) labels.set(key, (labels.get(key) ?? new Set()).add(label))
  return Array.from(labels, ([value, all]) => ({ value, label: [...all].join(' / ') }))
}

const CLOSED: Partial<Record<Meaning, Record<string, string>>> = {
  status: STATUSES,
  duty: DUTIES,
  found: FOUND,
  because: BECAUSE,
  paidBy: PAID_BY,
  history: HISTORIES,
  action: ACTIONS,
  codeState: CODE_STATES,
  lamp: { yes: 'it was on', no: 'it was off' },
  lookKind: LOOKS,
  change: CHANGES,
}

/** The engines that the workbook's vehicles have, as far as they are tied; all of them where none is. */
export function enginesInUse(families: readonly Family[], mapping: Mapping): readonly Family[] {
  const tied = new Set(Object.values(mapping.values.engine ?? {}).map((value) => value.split('/')[0]))
  const used = families.filter(({ key }) => tied.has(key))
  return used.length > 0 ? used : families
}
