'use server'

import { redirect } from 'next/navigation'
import { z } from 'zod'
import { allOf, readTypedNoticed } from '@/lib/intake/typed-complaint'
import { readTypedVehicle } from '@/lib/intake/typed-vehicle'
import { changeRecords } from '@/lib/jobs/change-records'
import { enterRecords } from '@/lib/jobs/enter-records'
import type { VehicleRow } from '@/lib/records/rows'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readTerms } from '@/lib/store/read/terms'
import { readVehicleRows } from '@/lib/store/read/vehicle-rows'
import { withOrganisation } from '@/lib/store/with-organisation'
import { passOnNumber, takeNumberBack } from '@/lib/store/write/pass-on-number'
import { dayIn } from '@/lib/units/dates'
import { requirePerson } from '../../require-person'
import { asked, done, type FormState, refused } from '../../ui/form-state'
import { formatsFor } from '../../ui/formats'
import { typedIn } from '../vehicles/[unit]/typed-in'
import { noticedIn } from './noticed'
import { numberQuestion } from './number-question'

/**
 * Adds a vehicle with its first reading and what was noticed on it before, and leads to its page. Where its number is that of one that was sold or
 * retired, it is asked first whether the number is used again.
 */
export async function addVehicle(before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('enter-records')
  const { undo, sure, ...fields } = typedIn(data)
  if (undo !== undefined) return takeBack(undo, before, data)
  const now = new Date()
  const unit = (fields.unit ?? '').trim()
  const { terms, known, there } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    known: await readKnownLibrary(scope),
    there: (await readVehicleRows(scope, { unit, after: null, limit: 1 })).vehicles[0],
  }))
  if (there && !isGone(there))
    return refused(before, data, [
      { field: 'unit', message: `There is a ${unit} already: open it from the watchlist` },
    ])
  const today = dayIn(terms.timeZone, now)
  const families = known?.library.families ?? []
  const ground = { today, distance: terms.distance }
  const family = families.find(({ key }) => key === fields.family)
  const noticed = { unit, odometer: fields.odometer ?? '', ...noticedIn(data) }
  const typed = allOf([
    readTypedVehicle(fields, { ...ground, families }),
    ...(family ? readTypedNoticed(noticed, { ...ground, family }) : []),
  ])
  if (!typed.ok) return refused(before, data, typed.slips)
  if (!there) {
    await enterRecords(database, organisation, typed.records, { now, by: person.id })
    redirect(`/vehicles/${encodeURIComponent(unit)}`)
  }
  const question = numberQuestion(there, formatsFor(terms, terms.distance))
  if (sure !== question.sure) return asked(before, data, question)
  const passing = { unit, records: typed.records, today, now, by: person.id }
  const { result } = await changeRecords(database, organisation, (scope) => passOnNumber(scope, passing), now)
  if (!result.ok) return refused(before, data, [{ field: 'unit', message: MEANWHILE }])
  return done(before, `The number ${unit} is used again. The vehicle before it is “${result.former}” now.`, {
    undo: `${now.toISOString()} ${unit}`,
    next: { address: `/vehicles/${encodeURIComponent(unit)}`, words: `Open ${unit}` },
  })
}

const MEANWHILE = 'Somebody has changed the vehicle of this number meanwhile: look at it first'

const isGone = ({ status }: VehicleRow) => status === 'sold' || status === 'retired'

/** What the button "Undo" sends: the instant, and the number. */
const GIVEN = z
  .string()
  .transform((text) => [text.slice(0, text.indexOf(' ')), text.slice(text.indexOf(' ') + 1)])
  .pipe(z.tuple([z.iso.datetime(), z.string().min(1)]))

async function takeBack(undo: string, before: FormState, data: FormData): Promise<FormState> {
  const { database, organisation, person } = await requirePerson('enter-records')
  const [passedOnAt, unit] = GIVEN.parse(undo)
  const now = new Date()
  const given = { unit, passedOnAt: new Date(passedOnAt), by: person.id }
  const { result } = await changeRecords(
    database,
    organisation,
    (scope) => takeNumberBack(scope, given, now),
    now,
  )
  if (!result.ok) return refused(before, data, [{ field: null, message: NOT_UNDONE }])
  return done(before, `Undone: ${unit} is the vehicle that it was before.`)
}

const NOT_UNDONE =
  'Something has been recorded of the new vehicle since, so that this is not undone: withdraw it there first.'
