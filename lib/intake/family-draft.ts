import type { z } from 'zod'
import { type Confidence, parseLibrary } from '@/lib/records/library'
import type { librarySchema } from '@/lib/records/library-schema'
import type { TypedError } from './typed-error'

/** A family as a library file writes it, while it is being stated. */
export type FamilyDraft = LibraryFile['families'][number]
export type WeakPointDraft = FamilyDraft['weakPoints'][number]
export type SignDraft = NonNullable<FamilyDraft['signs']>[number]
export type LinkDraft = NonNullable<FamilyDraft['upstream']>[number]
export type VariantDraft = NonNullable<FamilyDraft['variants']>[number]
export type RevisionDraft = NonNullable<WeakPointDraft['revisions']>[number]

type LibraryFile = z.input<typeof librarySchema>

const FORMAT = 'gudgeon-library/1'
/** Pages that stand where the page of a family of such a key would; dots lead to where it stands itself. */
export const PAGES_BESIDE_FAMILIES = ['new', 'compare', 'take-in', '.', '..']
/** Keys that mean something else. */
const RESERVED = ['other', 'lamp-on', ...PAGES_BESIDE_FAMILIES]

/** A key made from a name that people typed, and none of those that are taken: "Plover 2.2 (new)" is `plover-2.2-new`. */
export function keyFor(name: string, taken: readonly string[]): string {
  const plain = name.normalize('NFKD').toLowerCase()
  const words = plain.replace(/[\u0300-\u036f'’]/g, '').split(/[^\p{L}\p{N}.]+/u)
  const key =
    words
      .map((word) => word.replace(/^\.+|\.+$/g, ''))
      .filter(Boolean)
      .join('-') || 'no-name'
  const used = [...taken, ...RESERVED]
  for (let n = 1; ; n++) {
    const candidate = n === 1 ? key : `${key}-${n}`
    if (!used.includes(candidate)) return candidate
  }
}

/** What is stated of the engine as a whole, and with what its weak points are reached together. */
export type EngineDraft = {
  name: string
  cylinders: number
  /** The group of jobs that share the work of getting there, and the hours that this takes; no group: alone. */
  access: { weakPoint: string; group: string | null; hours: number }[]
}

/** The draft of an engine that is stated anew. What there is one of a cylinder goes with the cylinders. */
export function withEngine(draft: FamilyDraft, { name, cylinders, access }: EngineDraft): FamilyDraft {
  const isEach = isOneACylinder(draft)
  const signs = draft.signs?.map((sign) => (isEach(sign) ? { ...sign, positions: cylinders } : sign))
  const weakPoints = draft.weakPoints.map((point) => {
    const placed = isEach(point) ? { ...point, positions: cylinders } : point
    const reached = access.find(({ weakPoint }) => weakPoint === point.key)
    if (!reached) return placed
    return { ...placed, access: reached.group, cost: { ...point.cost, sharedHours: reached.hours } }
  })
  return { ...draft, name, cylinders, weakPoints, ...(signs && { signs }) }
}

/** Whether there is one of something a cylinder: as many as there are cylinders, where there are several. */
export const isOneACylinder =
  ({ cylinders }: Pick<FamilyDraft, 'cylinders'>) =>
  ({ positions }: { positions?: number }) =>
    cylinders > 1 && positions === cylinders

/**
 * The draft with a weak point: a new one, or what is stated now of the one with this key; what a form does not ask
 * about it stays.
 */
export function withWeakPoint(
  draft: FamilyDraft,
  key: string | null,
  stated: Omit<WeakPointDraft, 'key'>,
): FamilyDraft {
  const before = draft.weakPoints.find((each) => each.key === key)
  const kept = {
    ...stated,
    cost: { ...before?.cost, ...stated.cost },
    duty: { ...stated.duty, mixed: before?.duty?.mixed ?? stated.duty?.mixed },
  }
  return { ...draft, weakPoints: withMember(draft.weakPoints, key, kept, stated.component) }
}

/** The draft without a weak point, and without what was said of it elsewhere. */
export function withoutWeakPoint(draft: FamilyDraft, key: string): FamilyDraft {
  return {
    ...draft,
    weakPoints: draft.weakPoints.filter((each) => each.key !== key),
    signs: (draft.signs ?? []).map((sign) => ({
      ...sign,
      causes: (sign.causes ?? []).filter(({ weakPoint }) => weakPoint !== key),
    })),
    upstream: (draft.upstream ?? []).filter(({ from, to }) => from !== key && to !== key),
  }
}

export function withSign(
  draft: FamilyDraft,
  key: string | null,
  stated: Omit<SignDraft, 'key'>,
): FamilyDraft {
  return { ...draft, signs: withMember(draft.signs ?? [], key, stated, stated.label ?? '') }
}

export function withoutSign(draft: FamilyDraft, key: string): FamilyDraft {
  return { ...draft, signs: (draft.signs ?? []).filter((each) => each.key !== key) }
}

/** The draft with a version of a part: a new one, or what is stated now of the one with this key. */
export function withRevision(
  draft: FamilyDraft,
  weakPoint: string,
  key: string | null,
  stated: Omit<RevisionDraft, 'key'>,
): FamilyDraft {
  return withRevisions(draft, weakPoint, (revisions) => withMember(revisions, key, stated, stated.name ?? ''))
}

export function withoutRevision(draft: FamilyDraft, weakPoint: string, key: string): FamilyDraft {
  return withRevisions(draft, weakPoint, (revisions) => revisions.filter((each) => each.key !== key))
}

function withRevisions(
  draft: FamilyDraft,
  weakPoint: string,
  change: (revisions: RevisionDraft[]) => RevisionDraft[],
): FamilyDraft {
  const changed = (point: WeakPointDraft) => ({ ...point, revisions: change(point.revisions ?? []) })
  return {
    ...draft,
    weakPoints: draft.weakPoints.map((each) => (each.key === weakPoint ? changed(each) : each)),
  }
}

/** What a version of the engine does to a weak point: how many times as long it lasts, or that it has none. */
export type VariantEffect = { weakPoint: string; lifeFactor: number | 'absent' }

/**
 * The draft with a version of the engine: a new one, or what is stated now of the one with this key.
 *
 * @param confidence of the effects that are stated anew; those that stay as they were keep their own
 */
export function withVariant(
  draft: FamilyDraft,
  key: string | null,
  {
    effects,
    confidence,
    ...stated
  }: Omit<VariantDraft, 'key'> & { effects: VariantEffect[]; confidence: Confidence },
): FamilyDraft {
  const variants = withMember(draft.variants ?? [], key, stated, stated.name ?? '')
  const own = key ?? variants.at(-1)?.key ?? ''
  const weakPoints = draft.weakPoints.map((point) => {
    const effect = effects.find(({ weakPoint }) => weakPoint === point.key)
    const { [own]: before, ...others } = point.variants ?? {}
    if (!effect || isSame(before, effect.lifeFactor)) return point
    if (effect.lifeFactor === 'absent') return { ...point, variants: { ...others, [own]: { absent: true } } }
    if (effect.lifeFactor === 1) return { ...point, variants: others }
    return { ...point, variants: { ...others, [own]: { lifeFactor: effect.lifeFactor, confidence } } }
  })
  return { ...draft, variants, weakPoints }
}

type EffectDraft = NonNullable<WeakPointDraft['variants']>[string]

const isSame = (before: EffectDraft | undefined, lifeFactor: VariantEffect['lifeFactor']) =>
  lifeFactor === 'absent'
    ? before?.absent === true
    : before?.absent !== true && (before?.lifeFactor ?? 1) === lifeFactor

/** The draft without a version of the engine, and without what it does to the weak points. */
export function withoutVariant(draft: FamilyDraft, key: string): FamilyDraft {
  const weakPoints = draft.weakPoints.map((point) => {
    const { [key]: _, ...others } = point.variants ?? {}
    return { ...point, variants: others }
  })
  return { ...draft, variants: (draft.variants ?? []).filter((each) => each.key !== key), weakPoints }
}

/** The draft with a link; one between the same two takes the place of the earlier. */
export function withLink(draft: FamilyDraft, link: LinkDraft): FamilyDraft {
  return { ...draft, upstream: [...withoutLink(draft, link).upstream!, link] }
}

export function withoutLink(draft: FamilyDraft, { from, to }: Pick<LinkDraft, 'from' | 'to'>): FamilyDraft {
  const others = (draft.upstream ?? []).filter((each) => each.from !== from || each.to !== to)
  return { ...draft, upstream: others }
}

function withMember<Member extends { key: string }>(
  members: readonly Member[],
  key: string | null,
  stated: Omit<Member, 'key'>,
  name: string,
): Member[] {
  const before = members.find((each) => each.key === key)
  const taken = members.map((each) => each.key)
  const member = { ...before, ...stated, key: before?.key ?? keyFor(name, taken) } as Member
  return before ? members.map((each) => (each === before ? member : each)) : [...members, member]
}

/**
 * A library file with the family in it: in the place of the one of the same key, or beside the others; the first, where
 * there is no library yet. Places of the engine that the library's walk does not come by yet are put at its end.
 */
export function libraryWith(content: string | null, name: string, family: FamilyDraft): string {
  const library: LibraryFile = content === null ? { format: FORMAT, name, families: [] } : JSON.parse(content)
  const { families } = library
  const stands = families.some(({ key }) => key === family.key)
  const next = {
    ...library,
    families: stands
      ? families.map((each) => (each.key === family.key ? family : each))
      : [...families, family],
  }
  return `${JSON.stringify(withZones(next, family), null, 2)}\n`
}

/** A library without zones lets any stand; one with some has them in the order of a walk. */
function withZones(library: LibraryFile, { weakPoints, signs = [] }: FamilyDraft): LibraryFile {
  const { zones = [] } = library
  if (zones.length === 0) return library
  const used = [...weakPoints, ...signs].flatMap(({ zone }) => (zone ? [zone] : []))
  return { ...library, zones: [...new Set([...zones, ...used])] }
}

/** A family of a library file as its author wrote it; null where there is none of that key. */
export function familyIn(content: string, key: string): FamilyDraft | null {
  const library: LibraryFile = JSON.parse(content)
  return library.families.find((each) => each.key === key) ?? null
}

/** The keys of a library file's families. */
export function familyKeysIn(content: string): string[] {
  const library: LibraryFile = JSON.parse(content)
  return library.families.map(({ key }) => key)
}

/** The places of the engine that a library file names, in the order of its walk, and those that a family names besides. */
export function zonesFor(content: string | null, family: FamilyDraft): string[] {
  const library: LibraryFile | null = content === null ? null : JSON.parse(content)
  const used = [...family.weakPoints, ...(family.signs ?? [])].flatMap(({ zone }) => (zone ? [zone] : []))
  return [...new Set([...(library?.zones ?? []), ...used])]
}

/** What the library schema finds wrong in a draft, at the fields of the forms. */
export function draftErrors(draft: FamilyDraft): TypedError[] {
  const parsed = parseLibrary(libraryWith(null, 'draft', draft))
  if (parsed.ok) return []
  return parsed.errors.map(({ place, message }) => {
    const [, own] = FIELDS.find(([ending]) => ending.test(place)) ?? []
    return { field: own?.field ?? null, message: own?.message ?? `${place}: ${message}` }
  })
}

/** Where a place of a library file is typed, and how its error is said there. */
const FIELDS: readonly [RegExp, { field: string; message: string }][] = [
  [
    /\.onset$/,
    { field: 'p50', message: 'Half must have gone between 1.2 and 43 times as late as the first in ten.' },
  ],
  [
    /\.codes(\[\d+\])?$/,
    {
      field: 'codes',
      message:
        'One of these is no trouble code like P0302 or 94:18, or another sign of this engine has it already.',
    },
  ],
  [/\.upstream$/, { field: 'to', message: 'That would go round in a circle; damage goes one way.' }],
  [
    /\.lifeFactor$/,
    { field: 'lasts', message: 'Type how many times as long it lasts, between 0.001 and 1,000.' },
  ],
  [/\.cylinders$/, { field: 'cylinders', message: 'Type how many cylinders it has, from 1 to 99.' }],
]
