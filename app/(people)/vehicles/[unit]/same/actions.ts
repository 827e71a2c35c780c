'use server'

import { refresh } from 'next/cache'
import { z } from 'zod'
import { changeRecords } from '@/lib/jobs/change-records'
import { differingFacts, factsOf } from '@/lib/records/merge-facts'
import { readVehicleRows } from '@/lib/store/read/vehicle-rows'
import type { OrganisationScope } from '@/lib/store/with-organisation'
import { mergeVehicles } from '@/lib/store/write/merge-vehicles'
import { partVehicles } from '@/lib/store/write/part-vehicles'
import { requirePerson } from '../../../../require-person'
import { done, type FormState, refused } from '../../../../ui/form-state'
import { NO_VEHICLE } from '../change-vehicle-by'
import { readEntryGround } from '../entry-ground'
import { movedLines } from '../moved-lines'
import { typedIn } from '../typed-in'
import { mergedWords, partedLines } from './merge-words'

const REFUSED = {
  'not-found': NO_VEHICLE,
  'open-stop':
    'The other one must not be driven, and nobody has released it yet: do that on its page first, so that the notice is not lost.',
}

/** Makes another vehicle one with this one, with the facts that were chosen of each. */
export async function mergeWith(
  unit: string,
  other: string,
  before: FormState,
  data: FormData,
): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('enter-records')
  const chosen = typedIn(data)
  const now = new Date()
  const merge = async (scope: OrganisationScope) => {
    const [own, its] = [await rowOf(scope, unit), await rowOf(scope, other)]
    if (!own || !its) return { ok: false as const, reason: 'not-found' as const }
    const groups = differingFacts(own, its).flatMap(({ group }) => (chosen[group] === 'other' ? [group] : []))
    return mergeVehicles(scope, { unit, other, facts: factsOf(its, groups), now, by: person.id })
  }
  const { result, vehicles } = await changeRecords(database, organisation, merge, now)
  if (!result.ok) return refused(before, data, [{ field: null, message: REFUSED[result.reason] }])
  refresh()
  const ground = await readEntryGround({ database, organisation, unit, now })
  return done(before, mergedWords({ unit, other, ...result }), {
    lines: ground ? movedLines(vehicles, ground) : [],
  })
}

async function rowOf(scope: OrganisationScope, unit: string) {
  const { vehicles } = await readVehicleRows(scope, { unit, after: null, limit: 1 })
  return vehicles[0]
}

/** Parts two vehicles that were made one. */
export async function partFrom(unit: string, before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('enter-records')
  const { other, mergedAt } = z
    .object({ other: z.string().min(1), mergedAt: z.iso.datetime() })
    .parse(typedIn(data))
  const now = new Date()
  const parting = { unit, other, mergedAt: new Date(mergedAt), now, by: person.id }
  const { result } = await changeRecords(database, organisation, (scope) => partVehicles(scope, parting), now)
  if (!result.ok)
    return refused(before, data, [
      {
        field: null,
        message: `${other} cannot be parted any more: there is a vehicle of that number again.`,
      },
    ])
  refresh()
  return done(before, `${other} is a vehicle of its own again.`, {
    lines: partedLines({ unit, ...result }),
    next: { address: `/vehicles/${encodeURIComponent(other)}`, words: `Open ${other}` },
  })
}
