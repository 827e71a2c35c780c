'use server'

import { refresh } from 'next/cache'
import { headers } from 'next/headers'
import { redirect } from 'next/navigation'
import { z } from 'zod'
import { changeOwnName, changeOwnPassword, endOwnSessions } from '@/lib/people/own-account'
import { setSessionCookies } from '../../../(door)/session-cookies'
import { requirePerson } from '../../../require-person'
import { typedName, typedNewPassword, typedPassword } from '../../../typed-account'
import { done, type FormState, parseForm, refused } from '../../../ui/form-state'
import { ALL_OTHERS, YOU_WORDS } from './you-words'

/** Gives whoever is signed in another name. */
export async function changeName(before: FormState, data: FormData): Promise<FormState> {
  const { database } = await requirePerson()
  const parsed = parseForm(z.object({ name: typedName('your name') }), data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  await changeOwnName(database, await headers(), parsed.value.name)
  refresh()
  return done(before, YOU_WORDS.nameKept)
}

const NOT_CHANGED = {
  wrong: { field: 'current-password', message: YOU_WORDS.wrong },
  'too-often': { field: null, message: YOU_WORDS.tooOften },
}

/** Changes the password of whoever is signed in; every other session of theirs ends. */
export async function changePassword(before: FormState, data: FormData): Promise<FormState> {
  const { database } = await requirePerson()
  const schema = z.object({ 'current-password': typedPassword, password: typedNewPassword })
  const parsed = parseForm(schema, data)
  if (!parsed.ok) return refused(before, data, parsed.errors)
  const { 'current-password': current, password: next } = parsed.value
  const asking = { headers: await headers(), now: new Date() }
  const changed = await changeOwnPassword(database, asking, { current, next })
  if (!changed.ok) return refused(before, data, [NOT_CHANGED[changed.reason]])
  await setSessionCookies(changed.headers)
  // The page is asked for anew: this request still has the cookie of the session that has just ended.
  redirect('/settings/you?password=changed')
}

/** Ends one session of whoever is signed in, or every other one. */
export async function endSessions(before: FormState, data: FormData): Promise<FormState> {
  const { database } = await requirePerson()
  const session = String(data.get('session'))
  const which = session === ALL_OTHERS ? 'others' : { id: session }
  const asking = { headers: await headers(), now: new Date() }
  const password = String(data.get('current-password') ?? '')
  const result = await endOwnSessions(database, asking, { which, password })
  if (!result.ok) return refused(before, data, [NOT_CHANGED[result.reason]])
  refresh()
  return done(before, result.ended > 0 ? YOU_WORDS.ended : YOU_WORDS.endedBefore)
}
