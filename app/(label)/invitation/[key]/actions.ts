'use server'

import { headers } from 'next/headers'
import { redirect } from 'next/navigation'
import { z } from 'zod'
import { type Joined, joinAsNew, joinAsPresent } from '@/lib/people/invitations'
import { enterWithPassword } from '@/lib/people/password-entry'
import { productDatabase } from '@/lib/store/product-database'
import { rememberOrganisation, setSessionCookies } from '../../../(door)/session-cookies'
import { typedName, typedNewPassword } from '../../../typed-account'
import { type FormState, parseForm, refused } from '../../../ui/form-state'
import { NOT_JOINED } from './invitation-words'

const JOINING = z.object({
  name: typedName('your name, so that what you record carries it'),
  password: typedNewPassword,
})

const notJoined = (before: FormState, data: FormData, { reason }: Extract<Joined, { ok: false }>) =>
  refused(before, data, [{ field: null, message: NOT_JOINED[reason] }])

/** Joins as somebody new and comes in: the key of the link is all that is asked for. */
export async function join(key: string, before: FormState, data: FormData): Promise<FormState> {
  const parsed = parseForm(JOINING, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const [database, now] = [await productDatabase(), new Date()]
  const joined = await joinAsNew(database, String(key), { ...parsed.value, now })
  if (!joined.ok) return notJoined(before, data, joined)
  const { mail, organisation } = joined.invitation
  const { password } = parsed.value
  const entered = await enterWithPassword(database, { mail, password, headers: await headers(), now })
  if (entered.ok) await setSessionCookies(entered.headers)
  await rememberOrganisation(organisation)
  redirect('/')
}

/** Joins as whoever is signed in, if it is them who was invited. */
export async function joinSignedIn(key: string, before: FormState, data: FormData): Promise<FormState> {
  const asking = { headers: await headers(), now: new Date() }
  const joined = await joinAsPresent(await productDatabase(), String(key), asking)
  if (!joined.ok) return notJoined(before, data, joined)
  await rememberOrganisation(joined.invitation.organisation)
  redirect('/')
}
