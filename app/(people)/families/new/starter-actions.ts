'use server'

import { starterWeakPoint } from '@/lib/intake/starter-form'
import { SIGN_FIELDS } from '@/lib/intake/starter-sign'
import { dayIn } from '@/lib/units/dates'
import type { FormState } from '../../../ui/form-state'
import { formatsFor } from '../../../ui/formats'
import { starterAddress } from './starter-address'
import { STARTER_POINTS } from './starter-words'
import { type Step, takeStep } from './take-step'

/** Where the library's schema says what is wrong in fields of the other forms. */
const FIELDS = { p50: 'range', codes: SIGN_FIELDS.label }

/**
 * Keeps a weak point from its short form, and goes on to the next one, or to what follows.
 *
 * @param key of the weak point that is stated anew; null for another one
 */
export async function keepStarterPoint(id: string, key: string | null, before: FormState, data: FormData) {
  let kept = ''
  const step: Step = (family, typed, { terms, person, now }) => {
    const { distance: say } = formatsFor(terms, terms.distance)
    const stated = { by: person.name, on: dayIn(terms.timeZone, now) }
    const read = starterWeakPoint(family, key, typed, { distance: terms.distance, say, stated })
    if (!read.ok) return read
    kept = read.value.key
    return { ok: true, value: read.value.family }
  }
  return takeStep(id, step, before, data, {
    next: ({ weakPoints }) =>
      key === null && weakPoints.length < STARTER_POINTS ? starterAddress.next(kept) : starterAddress.summary,
    fields: FIELDS,
  })
}
