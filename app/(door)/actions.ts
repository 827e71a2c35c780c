'use server'

import { headers } from 'next/headers'
import { redirect } from 'next/navigation'
import { enterAs, placeOf, readDoor } from '@/lib/people/door'
import { leave } from '@/lib/people/leave'
import { enterWithPassword } from '@/lib/people/password-entry'
import { startOrganisation } from '@/lib/people/start-organisation'
import { productDatabase } from '@/lib/store/product-database'
import { requirePerson } from '../require-person'
import { type FormState, parseForm, refused } from '../ui/form-state'
import { firstOwnerSchema, signInSchema, startByPressSchema } from './door-forms'
import { rememberOrganisation, setSessionCookies } from './session-cookies'
import { wayBack } from './way-back'

const theDoor = async () => {
  const [database, asked] = [await productDatabase(), await headers()]
  const place = placeOf(process.env, asked)
  return { database, headers: asked, place, door: await readDoor(database, place) }
}

/** Enters as somebody who has no password: the people of the demo, and one's own of this machine. */
export async function enter(data: FormData): Promise<void> {
  const { database, place, headers } = await theDoor()
  const entered = await enterAs(database, place, { person: String(data.get('person')), headers })
  if (!entered) redirect('/door')
  await setSessionCookies(entered)
  redirect(wayBack(String(data.get('from') ?? '')))
}

/** Enters with mail and password. */
export async function signIn(before: FormState, data: FormData): Promise<FormState> {
  const parsed = parseForm(signInSchema, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const { database, headers } = await theDoor()
  const { from, ...typed } = parsed.value
  const entered = await enterWithPassword(database, { ...typed, headers, now: new Date() })
  if (!entered.ok) return refused(before, data, [{ field: null, message: ENTRY_REFUSED[entered.reason] }])
  await setSessionCookies(entered.headers)
  redirect(wayBack(from))
}

const ENTRY_REFUSED = {
  wrong: 'Mail and password do not go together. Check both, capital letters too, and try again.',
  'too-often': 'There were too many attempts. Wait a minute, then try again.',
}

const NAME_TAKEN = 'There is an organisation of that name here already. Choose another name.'

/** Starts an organisation of one's own on this machine, where the door offers that, and enters it. */
export async function startByPress(before: FormState, data: FormData): Promise<FormState> {
  const parsed = parseForm(startByPressSchema, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const { database, place, door, headers } = await theDoor()
  if (door.start !== 'by-press') redirect('/door')
  const { owner, ...beginning } = parsed.value
  const person = await startOrganisation(database, beginning, { name: owner }, new Date())
  if (person === null) return refused(before, data, [{ field: 'name', message: NAME_TAKEN }])
  const entered = await enterAs(database, place, { person, headers })
  if (entered) await setSessionCookies(entered)
  redirect('/')
}

/** Makes the first owner of a server, with the first organisation, and enters it. */
export async function startAsFirstOwner(before: FormState, data: FormData): Promise<FormState> {
  const parsed = parseForm(firstOwnerSchema, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const { database, headers, door } = await theDoor()
  if (door.start !== 'as-first-owner') redirect('/door')
  const { owner, mail, password, ...beginning } = parsed.value
  const now = new Date()
  const account = { mail, password }
  if ((await startOrganisation(database, beginning, { name: owner, account }, now)) === null)
    return refused(before, data, [{ field: 'name', message: NAME_TAKEN }])
  const entered = await enterWithPassword(database, { mail, password, headers, now })
  if (entered.ok) await setSessionCookies(entered.headers)
  redirect('/')
}

/** Ends this session; every one of the person's, where the button says so. */
export async function signOut(data: FormData): Promise<void> {
  const everywhere = data.get('everywhere') === 'yes'
  await setSessionCookies(await leave(await productDatabase(), { headers: await headers(), everywhere }))
  redirect('/door')
}

/** Goes on in another organisation that one belongs to. */
export async function chooseOrganisation(data: FormData): Promise<void> {
  const { memberships } = await requirePerson()
  const chosen = memberships.find(({ organisation }) => organisation === data.get('organisation'))
  if (chosen) await rememberOrganisation(chosen.organisation)
  redirect('/')
}
