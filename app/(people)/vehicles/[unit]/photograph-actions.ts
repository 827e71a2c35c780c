'use server'

import { refresh } from 'next/cache'
import { z } from 'zod'
import { withOrganisation } from '@/lib/store/with-organisation'
import { restorePhotograph, withdrawPhotograph } from '@/lib/store/write/photograph'
import { requirePerson } from '../../../require-person'

/** What a button of the photographs stands for, as `act id`. */
const PRESSED = z
  .string()
  .transform((text) => text.split(' '))
  .pipe(z.tuple([z.enum(['withdraw', 'restore']), z.uuid()]))

/** Withdraws a photograph, or brings it back. */
export async function changePhotographState(data: FormData): Promise<void> {
  const { database, organisation, person } = await requirePerson('enter-records')
  const [act, id] = PRESSED.parse(data.get('pressed'))
  await withOrganisation(
    database,
    organisation,
    (scope) =>
      act === 'withdraw'
        ? withdrawPhotograph(scope, id, { now: new Date(), by: person.id })
        : restorePhotograph(scope, id),
    'write',
  )
  refresh()
}
