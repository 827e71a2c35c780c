'use server'

import { refresh } from 'next/cache'
import { z } from 'zod'
import { sendLetter } from '@/lib/jobs/send-letter'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { optOut, undoOptOut } from '@/lib/store/write/opt-out'
import { undoLetter } from '@/lib/store/write/write-letter'
import { dayIn } from '@/lib/units/dates'
import { requirePerson } from '../../require-person'
import { done, type FormState, refused } from '../../ui/form-state'
import { formatsFor } from '../../ui/formats'
import { letterMark, letterPaper, letterText } from '../vehicles/[unit]/letter/letter-paper'

const UUID = z.uuid()

/** Notes that the letter on the page was written, and its jobs as told by letter. */
export async function noteLetter(
  unit: string,
  read: string,
  before: FormState,
  data: FormData,
): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('plan')
  const by = { now: new Date(), by: person.id }
  const sent = await withOrganisation(
    database,
    organisation,
    async (scope) => {
      const terms = await readTerms(scope)
      const formats = formatsFor(terms, terms.distance)
      const textOf = (letter: Parameters<typeof letterPaper>[0]) => {
        const text = letterText(letterPaper(letter, formats))
        return { text, mark: letterMark(text) }
      }
      return sendLetter(scope, { unit, read, textOf }, by)
    },
    'write',
  )
  refresh()
  if (sent.ok) return done(before, 'Noted as written; its jobs count as told by letter.')
  return refused(before, data, [{ field: null, message: NOT_SENT[sent.reason] }])
}

const NOT_SENT = {
  'not-found': 'There is no such vehicle of a customer here.',
  'not-now': 'There is no letter to write any more: something has changed meanwhile.',
  'other-text': 'The letter says something else by now: read it once more before it goes out.',
  'opted-out': 'The customer wants no letters.',
  'written-lately': 'The customer was written to already.',
}

/** The letter did not go out. */
export async function takeLetterBack(id: string): Promise<void> {
  const { database, organisation, person } = await requirePerson('plan')
  const by = { now: new Date(), by: person.id }
  if (UUID.safeParse(id).success)
    await withOrganisation(database, organisation, (scope) => undoLetter(scope, id, by), 'write')
  refresh()
}

const CUSTOMER = z.string().trim().min(1).max(500)

/** Notes that a customer wants no letters. */
export async function noteOptOut(customer: string): Promise<void> {
  const { database, organisation, person } = await requirePerson('answer-proposals')
  const [parsed, now] = [CUSTOMER.safeParse(customer), new Date()]
  if (parsed.success)
    await withOrganisation(
      database,
      organisation,
      async (scope) => {
        const today = dayIn((await readTerms(scope)).timeZone, now)
        await optOut(scope, { customer: parsed.data, today }, { now, by: person.id })
      },
      'write',
    )
  refresh()
}

/** They want letters again. */
export async function takeOptOutBack(id: string): Promise<void> {
  const { database, organisation, person } = await requirePerson('answer-proposals')
  const by = { now: new Date(), by: person.id }
  if (UUID.safeParse(id).success)
    await withOrganisation(database, organisation, (scope) => undoOptOut(scope, id, by), 'write')
  refresh()
}
