import { redirect } from 'next/navigation'
import { draftErrors, type FamilyDraft } from '@/lib/intake/family-draft'
import type { FromForm, Typed } from '@/lib/intake/family-forms'
import { readLibraryDraft } from '@/lib/store/read/library-drafts'
import { readTerms, type Terms } from '@/lib/store/read/terms'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { keepLibraryDraft } from '@/lib/store/write/library-draft'
import { requirePerson } from '../../../require-person'
import { type FormState, refused } from '../../../ui/form-state'
import { draftAddress } from './open-draft'
import { GONE, typedIn } from './typed-in'

/** What a step is taken on. */
export type StepGround = { scope: OrganisationScope; terms: Terms; person: { name: string }; now: Date }

/** What a step makes of a draft, from what was typed. */
export type Step = (
  family: FamilyDraft,
  typed: Typed,
  ground: StepGround,
) => FromForm<FamilyDraft> | Promise<FromForm<FamilyDraft>>

type Taking = {
  /** The part of the draft that is shown next. */
  next?: (family: FamilyDraft) => string
  /** Fields that go by another name in this form than in the others. */
  fields?: Readonly<Record<string, string>>
}

/** Takes a step in a draft and goes back to it, or to a part of it; or keeps what was typed and says what to mend. */
export async function takeStep(
  id: string,
  step: Step,
  before: FormState,
  data: FormData,
  { next = () => '', fields = {} }: Taking = {},
): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('edit-library')
  const typed = typedIn(data)
  if (!typed.ok) return refused(before, data, typed.errors)
  const taken = await withOrganisation(
    database,
    organisation,
    async (scope): Promise<FromForm<FamilyDraft>> => {
      const [terms, now] = [await readTerms(scope), new Date()]
      const draft = await readLibraryDraft(scope, id)
      if (!draft) return { ok: false, errors: [{ field: null, message: GONE }] }
      const made = await step(draft.family as FamilyDraft, typed.value, { scope, terms, person, now })
      if (!made.ok) return made
      const errors = draftErrors(made.value)
      if (errors.length > 0) return { ok: false, errors }
      await keepLibraryDraft(scope, { id, family: made.value, now })
      return made
    },
    'write',
  )
  if (taken.ok) redirect(draftAddress(id, next(taken.value)))
  const renamed = ({ field, message }: { field: string | null; message: string }) => ({
    field: field === null ? null : (fields[field] ?? field),
    message,
  })
  return refused(before, data, taken.errors.map(renamed))
}
