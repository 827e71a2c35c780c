'use server'

import { revalidatePath } from 'next/cache'
import { redirect } from 'next/navigation'
import { EXAMPLE_FAMILY } from '@/lib/intake/example-family'
import { type FamilyDraft, familyIn } from '@/lib/intake/family-draft'
import { beginDraft } from '@/lib/jobs/begin-draft'
import { putDraftInForce } from '@/lib/jobs/put-draft-in-force'
import { readLibraryDraft, readLibraryDrafts } from '@/lib/store/read/library-drafts'
import { readLibraryInForce } from '@/lib/store/read/library-in-force'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { askDraftReplay, stopReplay } from '@/lib/store/write/ask-replay'
import { holdLibrary } from '@/lib/store/write/hold-library'
import { beginLibraryDraft, dropLibraryDraft } from '@/lib/store/write/library-draft'
import { requirePerson } from '../../../require-person'
import { asked, done, type FormState, refused } from '../../../ui/form-state'
import { reasonsOf } from '../refusal-reasons'
import { draftAddress } from './open-draft'
import { GONE, typedIn } from './typed-in'

/** Begins to state a family. @param key the key that vehicles have for it already; null for one of its name */
export async function beginFamily(key: string | null, before: FormState, data: FormData): Promise<FormState> {
  return begin(key, before, data, '')
}

/** The same, to go on with the short form of its first weak point. */
export async function beginStarter(
  key: string | null,
  before: FormState,
  data: FormData,
): Promise<FormState> {
  return begin(key, before, data, 'starter/new')
}

/** @param part of the draft that is shown next */
async function begin(
  key: string | null,
  before: FormState,
  data: FormData,
  part: string,
): Promise<FormState> {
  await requirePerson('edit-library')
  const typed = typedIn(data)
  if (!typed.ok) return refused(before, data, typed.errors)
  const { name = '', cylinders = '' } = typed.value
  const called = name.trim()
  if (called === '')
    return refused(before, data, [{ field: 'name', message: 'Say what the engine is called.' }])
  const family = {
    name: called,
    cylinders: Number(cylinders.trim()),
    weakPoints: [],
    signs: [],
    upstream: [],
  }
  const begun = await keepNew(family, key, called)
  return begun.ok ? redirect(draftAddress(begun.id, part)) : refused(before, data, begun.errors)
}

/** Begins with a small invented family, to be changed. */
export async function beginWithExample(): Promise<void> {
  const begun = await keepNew(EXAMPLE_FAMILY, null, EXAMPLE_FAMILY.key)
  if (!begun.ok) throw new Error(`The example is not valid: ${begun.errors[0]?.message}`)
  redirect(draftAddress(begun.id))
}

/** Opens a family that is in force to be changed: a draft of it, or the one that somebody has begun already. */
export async function changeFamily(key: string): Promise<void> {
  const { database, organisation, person } = await requirePerson('edit-library')
  const id = await withOrganisation(
    database,
    organisation,
    async (scope) => {
      await holdLibrary(scope)
      const begun = (await readLibraryDrafts(scope)).find(({ family }) => (family as FamilyDraft).key === key)
      if (begun) return begun.id
      const inForce = await readLibraryInForce(scope)
      const family = inForce && familyIn(inForce.content, key)
      return family && beginLibraryDraft(scope, { family, now: new Date(), by: person.id })
    },
    'write',
  )
  redirect(id ? draftAddress(id) : '/families')
}

async function keepNew(family: Omit<FamilyDraft, 'key'>, key: string | null, called: string) {
  const { database, organisation, person } = await requirePerson('edit-library')
  const begin = (scope: OrganisationScope) =>
    beginDraft(scope, { family, key, called, now: new Date(), by: person.id })
  return withOrganisation(database, organisation, begin, 'write')
}

/** Asks that a draft be tried on the organisation's own past. */
export async function tryDraft(id: string, before: FormState): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('edit-library')
  const ask = async (scope: OrganisationScope) => {
    const draft = await readLibraryDraft(scope, id)
    if (draft) await askDraftReplay(scope, { draft: draft.id, by: person.id, now: new Date() })
  }
  await withOrganisation(database, organisation, ask, 'write')
  revalidatePath(draftAddress(id))
  return done(before, 'Asked for')
}

/** Gives a trial of a draft up. */
export async function stopTrying(id: string, before: FormState): Promise<FormState> {
  const { database, organisation } = await requirePerson('edit-library')
  const stop = (scope: OrganisationScope) => stopReplay(scope, { id, now: new Date() })
  await withOrganisation(database, organisation, stop, 'write')
  revalidatePath(draftAddress(id))
  return done(before, 'Stopped')
}

/** Drops a draft altogether. */
export async function dropDraft(id: string): Promise<void> {
  const { database, organisation } = await requirePerson('edit-library')
  const drop = (scope: OrganisationScope) => dropLibraryDraft(scope, { id, now: new Date() })
  await withOrganisation(database, organisation, drop, 'write')
  redirect('/families')
}

/** The answer to the question whether a change that somebody made meanwhile may be undone. */
const UNDO_OTHERS = 'undo-others'

/** Puts the draft in force, in a new version of the library: beside the others, or in the place of what it changes. */
export async function putInForce(id: string, before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('edit-library')
  const asking = { id, sure: data.get('sure') === UNDO_OTHERS, now: new Date(), by: person.id }
  const put = await withOrganisation(
    database,
    organisation,
    (scope) => putDraftInForce(scope, asking),
    'write',
  )
  if (put.ok) redirect(`/families/${encodeURIComponent(put.family)}`)
  if (put.reason === 'changed-meanwhile')
    return asked(before, data, {
      words: 'This engine was changed since this draft was begun. Put in force, the draft would undo that.',
      yes: 'Put it in force all the same',
      sure: UNDO_OTHERS,
    })
  if (put.reason === 'gone') return refused(before, data, [{ field: null, message: GONE }])
  if (put.reason === 'positions-in-use')
    return refused(before, data, [{ field: null, message: put.sentence }])
  return refused(before, data, reasonsOf(put))
}
