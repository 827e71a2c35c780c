import { APIError } from 'better-auth/api'
import { logEvent } from '@/lib/log/log-event.mjs'
import type { Database } from '@/lib/store/database'
import { readAccountByMail } from '@/lib/store/read/account-by-mail'
import { type ListedSession, readSessionsOf } from '@/lib/store/read/sessions-of'
import { endOtherSessions, endSession } from '@/lib/store/write/end-sessions'
import { tooManyAttempts } from './inner/attempts'
import { addressMark } from './inner/marks'
import { signInOf } from './sign-in'

type Asking = { headers: Headers; now: Date }

/** Whoever asks, as they see themself. */
export type OwnAccount = {
  name: string
  /** What they sign in with; null for a person of this machine, who has no password. */
  mail: string | null
  sessions: (ListedSession & { isThis: boolean })[]
}

/** What somebody may see and change of their own; null where nobody is signed in. */
export async function readOwnAccount(
  database: Database,
  { headers, now }: Asking,
): Promise<OwnAccount | null> {
  const present = await signInOf(database).api.getSession({ headers })
  if (!present) return null
  const { user, session } = present
  const account = await readAccountByMail(database, user.email)
  const sessions = await readSessionsOf(database, user.id, now)
  return {
    name: user.name,
    mail: account?.mail ?? null,
    sessions: sessions.map((each) => ({ ...each, isThis: each.id === session.id })),
  }
}

export type SessionsEnded =
  /** How many. */
  { ok: true; ended: number } | { ok: false; reason: 'wrong' | 'too-often' }

/**
 * Ends one session of whoever asks, or all but the one that asks: whoever found a browser open does not know the
 * password, and cannot lock its owner out. Attempts are counted by session, so that guesses there stop nobody elsewhere.
 *
 * @param password of whoever asks; a person of this machine has none
 */
export async function endOwnSessions(
  database: Database,
  { headers, now }: Asking,
  { which, password }: { which: { id: string } | 'others'; password: string },
): Promise<SessionsEnded> {
  const { api } = signInOf(database)
  const present = await api.getSession({ headers })
  if (!present) return { ok: true, ended: 0 }
  const { id: person, email: mail } = present.user
  if (await readAccountByMail(database, mail)) {
    if (await tooManyAttempts(database, 'confirm', { account: present.session.id, headers, now }))
      return { ok: false, reason: 'too-often' }
    if (!(await isPassword(() => api.verifyPassword({ body: { password }, headers })))) {
      logEvent('password refused', { person, from: addressMark(headers) })
      return { ok: false, reason: 'wrong' }
    }
  }
  const ended =
    which === 'others'
      ? await endOtherSessions(database, { person, kept: present.session.id })
      : Number(await endSession(database, { person, id: which.id }))
  if (ended > 0) logEvent('session ended', { person, scope: which === 'others' ? 'others' : 'one' })
  return { ok: true, ended }
}

async function isPassword(verify: () => Promise<{ status: boolean }>): Promise<boolean> {
  try {
    return (await verify()).status
  } catch (error) {
    if (error instanceof APIError) return false
    throw error
  }
}

/** Gives whoever asks another name; what they recorded carries it, too. */
export async function changeOwnName(database: Database, headers: Headers, name: string): Promise<void> {
  await signInOf(database).api.updateUser({ body: { name }, headers })
}

export type PasswordChange =
  /** The headers with the cookie of the session that goes on: every other one has ended. */
  { ok: true; headers: Headers } | { ok: false; reason: 'wrong' | 'too-often' }

/** Changes the password of whoever asks and knows the one before; attempts are counted. */
export async function changeOwnPassword(
  database: Database,
  { headers, now }: Asking,
  { current, next }: { current: string; next: string },
): Promise<PasswordChange> {
  const { api } = signInOf(database)
  const present = await api.getSession({ headers })
  if (!present) return { ok: false, reason: 'wrong' }
  if (await tooManyAttempts(database, 'confirm', { account: present.session.id, headers, now }))
    return { ok: false, reason: 'too-often' }
  try {
    const body = { currentPassword: current, newPassword: next, revokeOtherSessions: true }
    return { ok: true, headers: (await api.changePassword({ body, headers, returnHeaders: true })).headers }
  } catch (error) {
    if (error instanceof APIError) return { ok: false, reason: 'wrong' }
    throw error
  }
}
