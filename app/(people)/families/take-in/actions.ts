'use server'

import { redirect } from 'next/navigation'
import { openTaking } from '@/lib/jobs/open-taking'
import { beginTakingIn, chooseFamilyTaken, takeInFamily } from '@/lib/jobs/take-in-family'
import type { LibraryError } from '@/lib/records/library'
import type { Side } from '@/lib/records/merge-family'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { decideTaking, dropTaking } from '@/lib/store/write/family-taking'
import { requirePerson } from '../../../require-person'
import { type FieldError, type FormState, refused } from '../../../ui/form-state'
import { reasonsOf } from '../refusal-reasons'
import { sideField, takingAddress } from './taking-address'

/** So many mistakes of a file are told at once. */
const MOST_TOLD = 12
const GONE = 'This is not there any more: somebody has taken it in or dropped it.'

async function write<T>(act: (scope: OrganisationScope, by: string) => Promise<T>): Promise<T> {
  const { database, organisation, person } = await requirePerson('edit-library')
  return withOrganisation(database, organisation, (scope) => act(scope, person.id), 'write')
}

/** Reads a library file of somebody else, and leads to the families in it; of a bad one nothing is kept. */
export async function bringFile(before: FormState, data: FormData): Promise<FormState> {
  await requirePerson('edit-library')
  const given = data.get('file')
  if (!(given instanceof File) || given.size === 0)
    return refused(before, data, [{ field: null, message: 'Choose a library file first.' }])
  const text = await given.text()
  const begun = await write((scope, by) => beginTakingIn(scope, { file: text, now: new Date(), by }))
  return begun.ok ? redirect(takingAddress(begun.id)) : refused(before, data, told(begun.errors))
}

function told(errors: readonly LibraryError[]): FieldError[] {
  const lines = errors.slice(0, MOST_TOLD).map(({ place, message }) => `${place}: ${message}`)
  const more = errors.length - lines.length
  return [...lines, ...(more > 0 ? [`And ${more} more.`] : [])].map((message) => ({ field: null, message }))
}

/** Chooses a family of the file, and the key that it has here. */
export async function chooseFamily(id: string, before: FormState, data: FormData): Promise<FormState> {
  await requirePerson('edit-library')
  const chosen = String(data.get('family') ?? '')
  const key = String(data.get('key') ?? '').trim() || chosen
  const done = await write((scope) => chooseFamilyTaken(scope, { id, chosen, key }))
  if (done.ok) redirect(takingAddress(id, 'decide'))
  if (done.reason === 'gone') return refused(before, data, [{ field: null, message: GONE }])
  if (done.reason === 'no-such-family')
    return refused(before, data, [{ field: 'family', message: 'Choose an engine of the file.' }])
  const message = 'Type a key without spaces, @, # or ?, like plover-22, that is no page’s name.'
  return refused(before, data, [{ field: 'key', message }])
}

/**
 * Keeps which side each difference is decided for, and leads to what comes of it. What stands as it would anyway is not
 * kept, but for conflicts: another change of ours is then asked about again.
 */
export async function decide(id: string, before: FormState, data: FormData): Promise<FormState> {
  const found = await write(async (scope) => {
    const merged = (await openTaking(scope, id))?.chosen?.merged
    if (!merged) return false
    const choices = merged.changes.flatMap(({ id: change, by }): [string, Side][] => {
      const side = data.get(sideField(change))
      return (side === 'mine' || side === 'theirs') && side !== by ? [[change, side]] : []
    })
    await decideTaking(scope, { id, choices: Object.fromEntries(choices) })
    return true
  })
  if (found) redirect(takingAddress(id, 'preview'))
  return refused(before, data, [{ field: null, message: GONE }])
}

/** Puts what was shown in force. */
export async function putTakenInForce(
  id: string,
  seal: string,
  before: FormState,
  data: FormData,
): Promise<FormState> {
  const taken = await write((scope, by) => takeInFamily(scope, { id, seal, now: new Date(), by }))
  if (taken.ok) redirect(`/families/${encodeURIComponent(taken.family)}`)
  if (taken.reason === 'gone') return refused(before, data, [{ field: null, message: GONE }])
  if (taken.reason === 'changed-meanwhile') {
    const message = 'What is stated here was changed since this was shown. Load the page anew and look again.'
    return refused(before, data, [{ field: null, message }])
  }
  return refused(before, data, reasonsOf(taken))
}

/** Drops a file of which nothing is wanted any more. */
export async function dropFile(id: string): Promise<void> {
  await write((scope) => dropTaking(scope, id))
  redirect('/families/take-in')
}
