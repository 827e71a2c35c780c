'use server'

import { wordsOf } from '@/lib/store/customer-words'
import { readCustomer } from '@/lib/store/read/customer'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { eraseCustomer } from '@/lib/store/write/erase-customer'
import { requirePerson } from '../../require-person'
import { asked, done, type FormState, parseForm, refused } from '../../ui/form-state'
import { formatsFor } from '../../ui/formats'
import { eraseSchema } from './customer-asked'
import { erasedLines, erasedWords, goneWords, NOBODY } from './customer-words'

/** Erases a customer for good: says first what will be gone, and does it when that is meant. */
export async function erase(name: string, before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('erase-customers')
  const parsed = parseForm(eraseSchema, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const { more, sure } = parsed.value
  const by = { now: new Date(), by: person.id }
  return withOrganisation(
    database,
    organisation,
    async (scope) => {
      const customer = await readCustomer(scope, String(name))
      if (!customer) return refused(before, data, [{ field: null, message: NOBODY(String(name)) }])
      if (sure !== SURE)
        return asked(before, data, { words: goneWords(customer), yes: 'Erase it for good', sure: SURE })
      const terms = await readTerms(scope)
      const words = wordsOf(customer, { unitsAreNames: terms.vehicleNumber === 'plate', more })
      const erased = await eraseCustomer(scope, { customer, words }, by)
      const lines = erasedLines(erased, formatsFor(terms, terms.distance))
      return done(before, erasedWords(erased), { lines })
    },
    'write',
  )
}

const SURE = 'erase'
