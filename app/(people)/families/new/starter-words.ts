import type { Advice } from '@/lib/decisions/advice'
import type { WeakPointDraft } from '@/lib/intake/family-draft'
import { tellingAges } from '@/lib/intake/onset-typed'
import { isWarningTaken } from '@/lib/intake/starter-form'
import { saidKm } from '@/lib/intake/thousands'
import type { DraftOutlook } from '@/lib/jobs/outlook-of-draft'
import type { Formats } from '../../../ui/formats'
import { ADVICE } from '../../../ui/words'
import { lifeSentence } from '../sentences'

/** So many weak points make a beginning. */
export const STARTER_POINTS = 5

export const STARTER = 'Five weak points, a short form each'

/** The onset said back: "Of 100: 10 by 80,000 km, 50 by 102,000 km, 90 by 120,000 km." */
export function onsetSentence(
  onset: { p10: number; p50: number },
  formats: Formats,
  distance: 'km' | 'mi',
): string {
  const said = tellingAges(onset).map(
    ({ age, ofHundred }) => `${ofHundred} by ${formats.distance(saidKm(age, distance))}`,
  )
  return `Of 100: ${said.join(', ')}.`
}

/** How far answers may lie from the curve before it is said. */
const MISSES_FROM = 5

/** Said where more than two answers lie on no one curve. */
export function missSentence(missesBy: number, formats: Formats): string {
  if (missesBy < MISSES_FROM) return ''
  return `Your answers lie on no one curve: this one is the closest, and misses the farthest by ${formats.count(missesBy)} of 100.`
}

/** How long a part runs from its first sign on; that nobody knows is said. */
export function warningSentence(point: WeakPointDraft, formats: Formats): string {
  const { warning } = point
  if (warning === 0) return 'It breaks down without warning.'
  const runs = `half of them run for ${formats.distance(warning)} or more`
  return isWarningTaken(point)
    ? `How long it runs from the first sign to the breakdown is not known: it is taken that ${runs}, a twentieth of the distance by which half have begun.`
    : `From the first sign to the breakdown, ${runs}.`
}

/** The whole life of a weak point said back, by distance as the starter asks it or as the long form states it. */
export function pointSentence(point: WeakPointDraft, formats: Formats, distance: 'km' | 'mi'): string {
  const { clock = 'distance', onset, warning } = point
  if (clock !== 'distance') return lifeSentence({ clock, onset, warning }, formats)
  return `${onsetSentence(onset, formats, distance)} ${warningSentence(point, formats)}`
}

/** What nothing can be said of, because it was left out; null where nothing was. */
export function missingSentence({ cost, cautions }: WeakPointDraft, hasSign: boolean): string | null {
  const noMoney = (cost?.parts ?? 0) === 0 && (cost?.hours ?? 0) === 0
  const missing = [
    noMoney && 'No costs stated, so what waiting costs cannot be said.',
    !hasSign && 'Nothing shows it: distance and repairs alone speak for it.',
    (cautions ?? []).length === 0 && 'No cautions stated; the maker’s instructions hold.',
  ].filter(Boolean)
  return missing.length === 0 ? null : missing.join(' ')
}

/** So many vehicles are named. */
export const LISTED = 10

/** How many vehicles would be looked at first. */
export function aheadSentence({ scores }: DraftOutlook, having: number, formats: Formats): string {
  const have = `${formats.count(having)} vehicle${having === 1 ? ' has' : 's have'} this engine`
  const count = (...among: Advice[]) => scores.filter(({ advice }) => among.includes(advice)).length
  const first = count('stop', 'book', 'check')
  const named = scores.length > LISTED ? ` The first ${LISTED} of them:` : ''
  if (first === 0)
    return `${have}. None of them would have to be looked at before the others; here they are, the likeliest to fail first.${named}`
  const parts = (['stop', 'book', 'check'] as const).flatMap((advice) =>
    count(advice) > 0 ? [`${formats.count(count(advice))} ${ADVICE[advice]}`] : [],
  )
  return `${have}. ${formats.count(first)} of them would be looked at first (${parts.join(', ')}).${named}`
}
