'use server'

import { readTypedOwner, readTypedStatus } from '@/lib/intake/typed-life'
import type { FormState } from '../../../ui/form-state'
import { changeVehicleBy } from './change-vehicle-by'

const STATUS_DONE = {
  active: 'It is in use.',
  stock: 'It is in stock.',
  sold: 'It is sold.',
  retired: 'It is retired. Its records stay.',
}

/** Says whether a vehicle is there, sold or retired, or undoes what has just been said. */
export async function changeStatus(unit: string, before: FormState, data: FormData): Promise<FormState> {
  return changeVehicleBy({ unit, before, data }, (fields, { today, distanceOf }) => {
    const read = readTypedStatus(fields, { today, distance: distanceOf(fields.unit) })
    return read.ok ? { ...read, words: STATUS_DONE[read.facts.status] } : read
  })
}

/** Says whose a vehicle is, or undoes what has just been said. */
export async function changeOwner(unit: string, before: FormState, data: FormData): Promise<FormState> {
  return changeVehicleBy({ unit, before, data }, (fields, ground) => {
    const read = readTypedOwner(fields, { ...ground, distance: ground.distanceOf(fields.unit) })
    if (!read.ok) return read
    const isOther = read.changes.length > 0
    return { ...read, words: isOther ? 'It has a new owner.' : 'Name and contact are put right.' }
  })
}
