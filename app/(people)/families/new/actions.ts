'use server'

import { redirect } from 'next/navigation'
import { EXAMPLE_FAMILY } from '@/lib/intake/example-family'
import {
  draftErrors,
  type FamilyDraft,
  keyFor,
  type LinkDraft,
  lastFamilyOf,
  libraryWith,
  withLink,
  withoutLink,
  withoutSign,
  withoutWeakPoint,
  withSign,
  withWeakPoint,
} from '@/lib/intake/family-draft'
import { type FromForm, linkFrom, signFrom, type Typed, weakPointFrom } from '@/lib/intake/family-forms'
import { readLibraryDraft } from '@/lib/store/read/library-drafts'
import { readLibraryInForce } from '@/lib/store/read/library-in-force'
import { readTerms } from '@/lib/store/read/terms'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { changeLibrary } from '@/lib/store/write/change-library'
import { beginLibraryDraft, dropLibraryDraft, keepLibraryDraft } from '@/lib/store/write/library-draft'
import { requirePerson } from '../../../require-person'
import { type FormState, refused } from '../../../ui/form-state'
import { draftAddress } from './open-draft'

const LONGEST = 500

/** What was typed, each field at a length that people write. */
function typedIn(data: FormData): Typed {
  return Object.fromEntries([...data].map(([name, value]) => [name, String(value).slice(0, LONGEST)]))
}

/** Begins to state a family. @param key the key that vehicles have for it already; null for one of its name */
export async function beginFamily(key: string | null, before: FormState, data: FormData): Promise<FormState> {
  const { name = '', cylinders = '' } = typedIn(data)
  if (name.trim() === '')
    return refused(before, data, [{ field: 'name', message: 'Say what the engine is called.' }])
  const family: FamilyDraft = {
    key: key ?? keyFor(name, []),
    name: name.trim(),
    cylinders: Number(cylinders.trim()),
    weakPoints: [],
    signs: [],
    upstream: [],
  }
  const errors = draftErrors(family)
  if (errors.length > 0) return refused(before, data, errors)
  redirect(draftAddress(await keepNew(family)))
}

/** Begins with a small invented family, to be changed. */
export async function beginWithExample(): Promise<void> {
  redirect(draftAddress(await keepNew(EXAMPLE_FAMILY)))
}

async function keepNew(family: FamilyDraft): Promise<string> {
  const { database, organisation, person } = await requirePerson('edit-library')
  const begin = (scope: OrganisationScope) =>
    beginLibraryDraft(scope, { family, now: new Date(), by: person.id })
  return withOrganisation(database, organisation, begin, 'write')
}

/** What a step makes of a draft, from what was typed. */
type Step = (family: FamilyDraft, typed: Typed, distance: 'km' | 'mi') => FromForm<FamilyDraft>

/** Takes a step in a draft and goes back to it, or keeps what was typed and says what to mend. */
async function take(id: string, step: Step, before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation } = await requirePerson('edit-library')
  const taken = await withOrganisation(
    database,
    organisation,
    async (scope): Promise<FromForm<FamilyDraft>> => {
      const { distance } = await readTerms(scope)
      const draft = await readLibraryDraft(scope, id)
      if (!draft) return { ok: false, errors: [{ field: null, message: GONE }] }
      const next = step(draft.family as FamilyDraft, typedIn(data), distance)
      if (!next.ok) return next
      const errors = draftErrors(next.value)
      if (errors.length > 0) return { ok: false, errors }
      await keepLibraryDraft(scope, { id, family: next.value, now: new Date() })
      return next
    },
    'write',
  )
  return taken.ok ? redirect(draftAddress(id)) : refused(before, data, taken.errors)
}

const GONE = 'This draft is not there any more: somebody has put it in force or dropped it.'

/** A step that needs no form's answer: what it takes away is gone. */
async function change(id: string, next: (family: FamilyDraft) => FamilyDraft): Promise<void> {
  const nothing = { tries: 0, values: {}, errors: [], question: null, done: null }
  await take(id, (family) => ({ ok: true, value: next(family) }), nothing, new FormData())
}

/** @param key of the weak point that is stated anew; null for another one */
export async function keepWeakPoint(id: string, key: string | null, before: FormState, data: FormData) {
  const step: Step = (family, typed, distance) => {
    const read = weakPointFrom(typed, distance)
    return read.ok ? { ok: true, value: withWeakPoint(family, key, read.value) } : read
  }
  return take(id, step, before, data)
}

/** @param key of the sign that is stated anew; null for another one */
export async function keepSign(id: string, key: string | null, before: FormState, data: FormData) {
  const step: Step = (family, typed) => {
    const read = signFrom(typed, keysOf(family))
    return read.ok ? { ok: true, value: withSign(family, key, read.value) } : read
  }
  return take(id, step, before, data)
}

export async function keepLink(id: string, before: FormState, data: FormData) {
  const step: Step = (family, typed) => {
    const read = linkFrom(typed, keysOf(family))
    return read.ok ? { ok: true, value: withLink(family, read.value) } : read
  }
  return take(id, step, before, data)
}

const keysOf = (family: FamilyDraft) => family.weakPoints.map(({ key }) => key)

export async function removeWeakPoint(id: string, key: string): Promise<void> {
  await change(id, (family) => withoutWeakPoint(family, key))
}

export async function removeSign(id: string, key: string): Promise<void> {
  await change(id, (family) => withoutSign(family, key))
}

export async function removeLink(id: string, link: Pick<LinkDraft, 'from' | 'to'>): Promise<void> {
  await change(id, (family) => withoutLink(family, link))
}

/** Drops a draft altogether. */
export async function dropDraft(id: string): Promise<void> {
  const { database, organisation } = await requirePerson('edit-library')
  await withOrganisation(database, organisation, (scope) => dropLibraryDraft(scope, id), 'write')
  redirect('/families')
}

/** Puts the draft in force, in a new version of the library. */
export async function putInForce(id: string, before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('edit-library')
  const put = await withOrganisation(
    database,
    organisation,
    async (scope): Promise<FromForm<string>> => {
      const draft = await readLibraryDraft(scope, id)
      if (!draft) return { ok: false, errors: [{ field: null, message: GONE }] }
      const inForce = await readLibraryInForce(scope)
      const { name } = await readTerms(scope)
      const content = libraryWith(inForce?.content ?? null, name, draft.family as FamilyDraft)
      const changed = await changeLibrary(scope, { content, now: new Date(), by: person.id })
      if (!changed.ok) return { ok: false, errors: reasonsOf(changed) }
      await dropLibraryDraft(scope, id)
      return { ok: true, value: lastFamilyOf(content) }
    },
    'write',
  )
  return put.ok ? redirect(`/families/${encodeURIComponent(put.value)}`) : refused(before, data, put.errors)
}

function reasonsOf(changed: Exclude<Awaited<ReturnType<typeof changeLibrary>>, { ok: true }>) {
  const lines =
    changed.reason === 'invalid'
      ? changed.errors.map(({ place, message }) => `${place}: ${message}`)
      : changed.keys.map(({ kind, key, records }) => `${records} records name the ${kind} ${key}`)
  return lines.map((message) => ({ field: null, message }))
}
