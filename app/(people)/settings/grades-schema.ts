import { z } from 'zod'
import type { Grade } from '@/lib/decisions/grades'
import { readTypedNumber } from '@/lib/records/typed-number'
import type { FieldError } from '../../ui/form-state'

/** So many words at most: more nobody keeps apart. */
export const MOST_GRADES = 6
export const wordField = (i: number) => `word${i + 1}`
export const shareField = (i: number) => `share${i + 1}`

export type GradesTyped = { setAsideShare: number; grades: Grade[] | null }

const ENOUGH_MESSAGE = 'Write in how many of 100 cases it is to be enough, from 50 to 99.'
const TEXT = z.string().catch('')

/**
 * Reads the words for shares of the value: rising, in words and not in letters, the last without an end where it is to
 * hold for everything dearer. All blank: no words of one's own.
 */
export function readGrades(
  data: FormData,
): { ok: true; value: GradesTyped } | { ok: false; errors: FieldError[] } {
  const typed = (field: string) => TEXT.parse(data.get(field)).trim()
  const enough = readTypedNumber(typed('enough'))
  const errors: FieldError[] = []
  if (enough === null || enough < 50 || enough > 99) errors.push({ field: 'enough', message: ENOUGH_MESSAGE })
  const rows = Array.from({ length: MOST_GRADES }, (_, i) => ({
    i,
    word: typed(wordField(i)),
    share: typed(shareField(i)),
  })).filter(({ word, share }) => word !== '' || share !== '')
  const grades: Grade[] = []
  rows.forEach(({ i, word, share }, place) => {
    const isLast = place === rows.length - 1
    const upTo = share === '' ? null : readTypedNumber(share)
    const wrong = wrongWith({ word, share, upTo, isLast }, grades)
    if (wrong?.in === 'word') errors.push({ field: wordField(i), message: wrong.message })
    if (wrong?.in === 'share') errors.push({ field: shareField(i), message: wrong.message })
    grades.push({ word, upTo: upTo === null ? null : upTo / 100 })
  })
  if (errors.length > 0) return { ok: false, errors }
  return { ok: true, value: { setAsideShare: enough! / 100, grades: grades.length === 0 ? null : grades } }
}

type Row = { word: string; share: string; upTo: number | null; isLast: boolean }
type Wrong = { in: 'word' | 'share'; message: string } | null

function wrongWith({ word, share, upTo, isLast }: Row, before: Grade[]): Wrong {
  if (word === '') return { in: 'word', message: 'Write the word for this share, or leave both blank.' }
  if (!/\p{L}{2}/u.test(word))
    return { in: 'word', message: 'Write a word: a letter or a figure tells nobody anything.' }
  if (word.length > 60) return { in: 'word', message: 'Shorten the word to 60 characters.' }
  if (before.some((each) => each.word.toLowerCase() === word.toLowerCase()))
    return { in: 'word', message: 'That word stands above already: choose another.' }
  if (share === '')
    return isLast ? null : { in: 'share', message: 'Only the last word may go without an end.' }
  if (upTo === null || !(upTo > 0) || upTo > 1000)
    return { in: 'share', message: 'Write up to which share of the value it holds, in percent, like 5.' }
  const last = before.at(-1)?.upTo ?? 0
  return upTo / 100 > last
    ? null
    : { in: 'share', message: 'The shares rise from word to word: write a larger one.' }
}
