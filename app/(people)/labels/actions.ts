'use server'

import { redirect } from 'next/navigation'
import { z } from 'zod'
import { newLabelSecret } from '@/lib/people/label-key'
import { LONGEST_NAME } from '@/lib/records/text-limits'
import { readVehiclesForLabels } from '@/lib/store/read/vehicles-for-labels'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { endLabels, makeLabels } from '@/lib/store/write/make-labels'
import { requirePerson } from '../../require-person'
import { asked, done, type FormState, refused } from '../../ui/form-state'
import { typedIn } from '../vehicles/[unit]/typed-in'
import { LABEL_SIZE_KEYS, MOST_LABELS } from './label-words'
import { type LabelsView, labelsAddress } from './labels-asked'

/** What came with the form is no more to be trusted than what was typed into it. */
const VIEW = z.object({
  search: z.string().max(200),
  site: z.string().max(LONGEST_NAME),
  without: z.boolean(),
  units: z.array(z.string().max(LONGEST_NAME)).max(MOST_LABELS),
  size: z.enum(LABEL_SIZE_KEYS),
})

/** The fields that say which vehicles are ticked. */
const PICKED = 'pick:'

type By = { now: Date; by: string; newSecret: typeof newLabelSecret }
type Write = <T>(work: (scope: OrganisationScope) => Promise<T>) => Promise<T>

/** Makes the labels of the vehicles that are ticked, or of all that were found, and shows them; or makes them anew. */
export async function printLabels(found: LabelsView, before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('enter-records')
  const typed = typedIn(data)
  const view = VIEW.parse({ ...found, size: typed.size })
  const by: By = { now: new Date(), by: person.id, newSecret: newLabelSecret }
  const write: Write = (work) => withOrganisation(database, organisation, work, 'write')
  if (typed.pressed === 'all') {
    const units = await write((scope) => makeAllFound(scope, view, by))
    // Of those without a label none is left: they are asked for by their numbers.
    redirect(labelsAddress(view.without ? { ...view, units } : view, '/labels/sheet'))
  }
  const picked = Object.keys(typed).flatMap((name) =>
    name.startsWith(PICKED) ? [name.slice(PICKED.length)] : [],
  )
  if (picked.length === 0)
    return refused(before, data, [
      { field: null, message: 'Tick the vehicles whose labels are to be printed' },
    ])
  const units = picked.slice(0, MOST_LABELS)
  const sheet = labelsAddress({ ...view, search: '', site: '', without: false, units }, '/labels/sheet')
  if (typed.pressed !== 'anew') {
    await write((scope) => makeLabels(scope, units, by))
    redirect(sheet)
  }
  const which = units.length === 1 ? `of ${units[0]}` : `of ${units.length} vehicles`
  if (typed.sure !== 'anew')
    return asked(before, data, {
      words: `What is printed of the label ${which} stops working, and has to come off. Make it anew?`,
      yes: 'Make it anew',
      sure: 'anew',
    })
  await write((scope) => makeAnew(scope, units, by))
  return done(before, `Made anew: the labels ${which} printed before open nothing any more.`, {
    next: { address: sheet, words: 'See and print the new ones' },
    readAnew: true,
  })
}

async function makeAllFound(scope: OrganisationScope, view: LabelsView, by: By): Promise<string[]> {
  const { vehicles } = await readVehiclesForLabels(scope, view, MOST_LABELS)
  const units = vehicles.map(({ unit }) => unit)
  await makeLabels(scope, units, by)
  return units
}

async function makeAnew(scope: OrganisationScope, units: string[], by: By): Promise<void> {
  await endLabels(scope, units, by)
  await makeLabels(scope, units, by)
}
