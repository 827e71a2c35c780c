'use server'

import { refresh } from 'next/cache'
import { z } from 'zod'
import { withOrganisation } from '@/lib/store/with-organisation'
import { answerStop, type StopAnswer } from '@/lib/store/write/answer-stop'
import { requirePerson } from '../../../require-person'
import { done, type FormState, parseForm, refused } from '../../../ui/form-state'

const text = (message: string) => z.string(message).trim().min(3, message).max(300)
const TOLD = z.object({ whom: text('Write who was told, by name or as “the driver”') })
const RELEASED = z.object({ because: text('Write which repair or which check makes it safe to drive') })

/** Notes who was told that the vehicle must not be driven. */
export async function tellDriver(id: string, before: FormState, data: FormData): Promise<FormState> {
  await requirePerson('answer-stops')
  const parsed = parseForm(TOLD, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  return answer(id, { act: 'told', ...parsed.value }, before, 'Noted: the driver has been told.')
}

/** Notes that the vehicle is parked. */
export async function markParked(id: string, before: FormState, _data: FormData): Promise<FormState> {
  return answer(id, { act: 'parked' }, before, 'Noted: it is parked.')
}

/** Releases the vehicle in the name of whoever is signed in. */
export async function releaseNotice(id: string, before: FormState, data: FormData): Promise<FormState> {
  await requirePerson('answer-stops')
  const parsed = parseForm(RELEASED, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  return answer(id, { act: 'released', ...parsed.value }, before, 'Released in your name.')
}

async function answer(id: string, what: StopAnswer, before: FormState, words: string): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('answer-stops')
  const notice = z.uuid().safeParse(id)
  const noted =
    notice.success &&
    (await withOrganisation(
      database,
      organisation,
      (scope) => answerStop(scope, notice.data, what, { now: new Date(), by: person.id }),
      'write',
    ))
  refresh()
  return done(before, noted ? words : 'Somebody was quicker: what they noted stands.')
}
