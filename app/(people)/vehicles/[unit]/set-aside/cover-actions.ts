'use server'

import { refresh } from 'next/cache'
import { z } from 'zod'
import { withOrganisation } from '@/lib/store/with-organisation'
import { putCoverTerms, type TermsSaid, undoCoverTerms } from '@/lib/store/write/put-cover-terms'
import { requirePerson } from '../../../../require-person'
import { done, type FormState, refused } from '../../../../ui/form-state'

const UNIT = z.string().min(1).max(200)
const SAID = z.object({
  days: z.int().min(1).max(3650).nullable(),
  km: z.number().min(0).max(10_000_000).nullable(),
  excluded: z.array(z.string().max(200)).max(500),
  claimLimit: z.number().min(0).max(1e9).nullable(),
})

const WRONG = { field: null, message: 'These terms cannot be kept: reckon with others first.' }
const GONE = { field: null, message: 'There is no such vehicle here any more.' }

/** Keeps the terms of a cover with the vehicle. */
export async function keepTerms(
  unit: string,
  said: TermsSaid,
  before: FormState,
  data: FormData,
): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('enter-records')
  const [named, read] = [UNIT.safeParse(unit), SAID.safeParse(said)]
  if (!named.success || !read.success) return refused(before, data, [WRONG])
  const kept = await withOrganisation(
    database,
    organisation,
    (scope) => putCoverTerms(scope, named.data, read.data, { now: new Date(), by: person.id }),
    'write',
  )
  if (kept === null) return refused(before, data, [GONE])
  return done(before, 'Kept. The stock reckons with them from now on.', { readAnew: true })
}

/** Takes the terms back that were kept last, so that those before hold again. */
export async function takeTermsBack(id: string): Promise<void> {
  const { database, organisation, person } = await requirePerson('enter-records')
  if (z.uuid().safeParse(id).success)
    await withOrganisation(
      database,
      organisation,
      (scope) => undoCoverTerms(scope, id, { now: new Date(), by: person.id }),
      'write',
    )
  refresh()
}
