import { draftErrors, type FamilyDraft, familyKeysIn, keyFor } from '@/lib/intake/family-draft'
import type { TypedError } from '@/lib/intake/typed-error'
import { readLibraryDrafts } from '@/lib/store/read/library-drafts'
import { readLibraryInForce } from '@/lib/store/read/library-in-force'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { holdLibrary } from '@/lib/store/write/hold-library'
import { beginLibraryDraft } from '@/lib/store/write/library-draft'

export type BegunDraft = { ok: true; id: string } | { ok: false; errors: TypedError[] }

/**
 * Begins a draft of a family that is not described yet, under a key that no other family has, in force or begun.
 *
 * @param key the key that vehicles have for it already; null for one of `called`
 */
export async function beginDraft(
  scope: OrganisationScope,
  {
    family,
    key,
    called,
    now,
    by,
  }: { family: Omit<FamilyDraft, 'key'>; key: string | null; called: string; now: Date; by: string },
): Promise<BegunDraft> {
  await holdLibrary(scope)
  const inForce = await readLibraryInForce(scope)
  const described = inForce ? familyKeysIn(inForce.content) : []
  const begun = (await readLibraryDrafts(scope)).map((draft) => (draft.family as FamilyDraft).key)
  if (key !== null && described.includes(key))
    return refusal('This engine is described already: open it and change it there.')
  if (key !== null && begun.includes(key))
    return refusal('Somebody has begun to state this engine already: go on with what is begun.')
  const whole = { ...family, key: key ?? keyFor(called, [...described, ...begun]) }
  const errors = draftErrors(whole)
  if (errors.length > 0) return { ok: false, errors }
  return { ok: true, id: await beginLibraryDraft(scope, { family: whole, now, by }) }
}

const refusal = (message: string): BegunDraft => ({ ok: false, errors: [{ field: null, message }] })
