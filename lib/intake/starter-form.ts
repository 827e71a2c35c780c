/**
 * A weak point with its sign on one short form, for whoever knows an engine by heart. What it makes is an ordinary draft,
 * which the forms that ask everything go on with; what they alone ask stays as it is.
 */
import type { Clock } from '@/lib/records/library'
import { type Day, formatDay } from '@/lib/units/dates'
import { type FamilyDraft, type WeakPointDraft, withWeakPoint } from './family-draft'
import { amountFrom, type FromForm, type Typed, weakPointFrom } from './family-forms'
import { onsetTyped, RANGE_FIELD, type SayKm } from './onset-typed'
import { SIGN_FIELDS, signTyped, withOwnSign } from './starter-sign'
import type { TypedError } from './typed-error'

/** Where nobody knows how long a part runs from its first sign on: so much of the distance by which half have begun. */
export const WARNING_SHARE = 1 / 20
/** Said with the grounds, so that whoever reads the library knows that nobody stated it. */
export const WARNING_TAKEN =
  'How long it runs from the first sign to the breakdown was not known; a twentieth of the distance by which half have begun was taken.'
/** What is less was most likely meant in thousands. */
const LEAST_WARNING_KM = 20

/** @param stated who states it, and on which day */
export type StarterTerms = {
  distance: 'km' | 'mi'
  say: SayKm
  stated: { by: string; on: Day }
}

/**
 * The draft with a weak point as the short form states it, and with its sign.
 *
 * @param key of the weak point that is stated anew; null for another one
 */
export function starterWeakPoint(
  family: FamilyDraft,
  key: string | null,
  typed: Typed,
  { distance, say, stated: { by, on } }: StarterTerms,
): FromForm<{ family: FamilyDraft; key: string }> {
  const onset = onsetTyped(typed, distance, say)
  const { p10, p50 } = onset.ok ? onset.value.onset : { p10: 1, p50: 2 }
  const warning = warningTyped(typed, p50, distance, say)
  const before = family.weakPoints.find((each) => each.key === key)
  const inKm = { clock: 'distance', p10: `${p10} km`, p50: `${p50} km`, warning: '0' }
  const point = weakPointFrom({ ...typed, ...inKm }, distance)
  const sign = signTyped(typed)
  const errors = [point, onset, warning, sign].flatMap((each) => (each.ok ? [] : each.errors))
  if (!point.ok || !onset.ok || !warning.ok || !sign.ok) return { ok: false, errors: inOrder(errors) }

  const { component, failureMode, positions, confidence, severity, harm, cost, cautions, grounds } =
    point.value
  const stated = {
    ...{ component, failureMode, positions, confidence, severity, harm, cost, cautions },
    ...{ clock: 'distance' as Clock, onset: onset.value.onset, warning: warning.value.km },
    grounds: [grounds, warning.value.taken && WARNING_TAKEN].filter(Boolean).join(' ') || null,
    duty: before?.duty,
    ...{ statedBy: by, statedOn: formatDay(on) },
  }
  const next = withWeakPoint(family, before?.key ?? null, stated)
  const own = before?.key ?? next.weakPoints.at(-1)?.key ?? ''
  return { ok: true, value: { family: withOwnSign(next, own, sign.value), key: own } }
}

/** How long it runs from the first sign to the breakdown; nothing typed: not known, and so much is taken. */
function warningTyped(
  typed: Typed,
  p50: number,
  distance: 'km' | 'mi',
  say: SayKm,
): FromForm<{ km: number; taken: boolean }> {
  const text = (typed.warning ?? '').trim()
  if (text === '') return { ok: true, value: { km: warningTaken(p50), taken: true } }
  const km = amountFrom(text, 'distance', distance)
  if (km === null)
    return refusal('warning', 'Type how far it runs, like 3,000; leave it empty if you do not know.')
  if (km > 0 && km < LEAST_WARNING_KM)
    return refusal(
      'warning',
      `That is ${say(km)}. Type 3k for three thousand, or 0 if it breaks down without warning.`,
    )
  return { ok: true, value: { km, taken: false } }
}

/** To two figures: more would claim to be known. */
export const warningTaken = (p50: number) =>
  Math.max(1, Math.round(Number((p50 * WARNING_SHARE).toPrecision(2))))

/** Whether how long it runs was taken because nobody knew. */
export const isWarningTaken = ({ grounds }: Pick<WeakPointDraft, 'grounds'>) =>
  grounds?.endsWith(WARNING_TAKEN) ?? false

/** What somebody said that it rests on, without what was put there for them. */
export const ownGrounds = ({ grounds }: Pick<WeakPointDraft, 'grounds'>): string =>
  (grounds ?? '').replace(WARNING_TAKEN, '').trim()

/** The fields in the order of the form: the first error is the first to mend. */
const ORDER = ['component', RANGE_FIELD, 'by', 'of', 'confidence', 'warning', ...Object.values(SIGN_FIELDS)]

function inOrder(errors: TypedError[]): TypedError[] {
  const place = ({ field }: TypedError) => {
    const at = ORDER.findIndex((each) => field === each || (each.length === 2 && field?.startsWith(each)))
    return at < 0 ? ORDER.length : at
  }
  return [...errors].sort((a, b) => place(a) - place(b))
}

const refusal = <T>(field: string, message: string): FromForm<T> => ({
  ok: false,
  errors: [{ field, message }],
})
