/**
 * The one sign of a weak point that the starter's short form asks for: read from what was typed, and put into the draft
 * beside the other signs, or together with one that other weak points show too.
 */
import { readTypedCodes } from '@/lib/records/typed-codes'
import { type FamilyDraft, type SignDraft, withoutSign, withSign } from './family-draft'
import { type FromForm, shownBy, signFrom, type Typed } from './family-forms'

export const SIGN_FIELDS = { label: 'sign', kind: 'signKind', detect: 'detect', leak: 'leak' }
/** How often a sign shows where nothing was said: of 10 parts that go 6 show it, and of 200 looks one without cause. */
export const SIGN_DEFAULTS = { detect: 0.6, leak: 0.005 }

type SignTyped = Pick<SignDraft, 'label' | 'kind' | 'codes' | 'leak'> & { detect: number }

/** Stands for the weak point, which may have no key yet. */
const SELF = 'self'
const CODE_FOR_EACH = /\b[PCBU][0-9A-F]*#[0-9A-F]*/i

/** The sign that a form states; null where it states none. Trouble codes in its text are its codes. */
export function signTyped(typed: Typed): FromForm<SignTyped | null> {
  const label = (typed[SIGN_FIELDS.label] ?? '').trim()
  if (label === '') return { ok: true, value: null }
  const hasCodes = CODE_FOR_EACH.test(label) || readTypedCodes(label).codes.length > 0
  const kind = hasCodes ? 'code' : (typed[SIGN_FIELDS.kind] ?? '')
  const detect = Number(typed[SIGN_FIELDS.detect] ?? SIGN_DEFAULTS.detect)
  const often = typed[SIGN_FIELDS.leak] ?? String(SIGN_DEFAULTS.leak)
  const read = signFrom({ label, kind, codes: label, leak: often, [shownBy(SELF)]: String(detect) }, [SELF])
  if (read.ok) {
    // What this form does not ask of a sign stays as it is.
    const { codes, leak } = read.value
    return { ok: true, value: { label, kind: read.value.kind, codes, leak, detect } }
  }
  const field = { label: SIGN_FIELDS.label, codes: SIGN_FIELDS.label, kind: SIGN_FIELDS.kind }
  const errors = read.errors.map((error) => ({
    ...error,
    field: field[error.field as keyof typeof field] ?? SIGN_FIELDS.detect,
  }))
  return { ok: false, errors }
}

/** The sign that the short form is about: the first that the weak point shows. */
export const signOf = ({ signs = [] }: FamilyDraft, weakPoint: string): SignDraft | undefined =>
  signs.find((sign) => detectIn(sign, weakPoint) !== undefined)

export const detectIn = ({ causes = [] }: SignDraft, weakPoint: string): number | undefined =>
  causes.find((cause) => cause.weakPoint === weakPoint)?.detect

/** The draft in which a weak point shows this sign, and not the one that the form was about before. */
export function withOwnSign(family: FamilyDraft, weakPoint: string, stated: SignTyped | null): FamilyDraft {
  const before = signOf(family, weakPoint)
  const isOwn = before !== undefined && (before.causes ?? []).length === 1
  const cleared = before && !isOwn ? withoutCause(family, before, weakPoint) : family
  if (stated === null) return before && isOwn ? withoutSign(family, before.key) : cleared
  const { detect, ...sign } = stated
  const shared = (cleared.signs ?? []).find((each) => each !== before && isSameSign(each, sign))
  if (shared) {
    const rest = before && isOwn ? withoutSign(cleared, before.key) : cleared
    return withSign(rest, shared.key, {
      ...shared,
      codes: unionOf(shared, sign),
      ...causedBy(shared, weakPoint, detect),
    })
  }
  const key = isOwn ? before.key : null
  return withSign(cleared, key, { ...sign, causes: [{ weakPoint, detect }] })
}

/** One sign may tell of several weak points: it is the same where it is called the same, or shares a trouble code. */
const isSameSign = (one: SignDraft, other: Pick<SignDraft, 'label' | 'codes'>): boolean =>
  one.label?.toLowerCase() === other.label?.toLowerCase() ||
  (one.codes ?? []).some((code) => other.codes?.includes(code))

const unionOf = (one: SignDraft, other: Pick<SignDraft, 'codes'>) => [
  ...new Set([...(one.codes ?? []), ...(other.codes ?? [])]),
]

const causedBy = ({ causes = [] }: SignDraft, weakPoint: string, detect: number) => ({
  causes: [...causes.filter((cause) => cause.weakPoint !== weakPoint), { weakPoint, detect }],
})

const withoutCause = (family: FamilyDraft, { key, ...sign }: SignDraft, weakPoint: string): FamilyDraft =>
  withSign(family, key, {
    ...sign,
    causes: (sign.causes ?? []).filter((cause) => cause.weakPoint !== weakPoint),
  })
