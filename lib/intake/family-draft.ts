import type { z } from 'zod'
import { parseLibrary } from '@/lib/records/library'
import type { librarySchema } from '@/lib/records/library-schema'
import type { TypedError } from './typed-error'

/** A family as a library file writes it, while it is being stated. */
export type FamilyDraft = LibraryFile['families'][number]
export type WeakPointDraft = FamilyDraft['weakPoints'][number]
export type SignDraft = NonNullable<FamilyDraft['signs']>[number]
export type LinkDraft = NonNullable<FamilyDraft['upstream']>[number]

type LibraryFile = z.input<typeof librarySchema>

const FORMAT = 'gudgeon-library/1'
/** Keys that mean something else. */
const RESERVED = ['other', 'lamp-on', 'new']

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

/** The draft with a weak point: a new one, or what is stated now of the one with this key. */
export function withWeakPoint(
  draft: FamilyDraft,
  key: string | null,
  stated: Omit<WeakPointDraft, 'key'>,
): FamilyDraft {
  return { ...draft, weakPoints: withMember(draft.weakPoints, key, stated, stated.component) }
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

/** A library file with the family in it: the one in force and this, or the first. */
export function libraryWith(content: string | null, name: string, family: FamilyDraft): string {
  const library: LibraryFile = content === null ? { format: FORMAT, name, families: [] } : JSON.parse(content)
  const taken = library.families.map(({ key }) => key)
  const added = taken.includes(family.key) ? { ...family, key: keyFor(family.key, taken) } : family
  return `${JSON.stringify({ ...library, families: [...library.families, added] }, null, 2)}\n`
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
  [/\.cylinders$/, { field: 'cylinders', message: 'Type how many cylinders it has, from 1 to 99.' }],
]

/** The key of the family that a library file ends with: the one that was put in last. */
export function lastFamilyOf(content: string): string {
  const library: LibraryFile = JSON.parse(content)
  return library.families.at(-1)?.key ?? ''
}
