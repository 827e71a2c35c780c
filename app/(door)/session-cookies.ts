import { parseSetCookieHeader } from 'better-auth/cookies'
import { cookies, headers } from 'next/headers'
import { cameSafely, cookieName } from '@/lib/people/host-cookies'
import { ORGANISATION_COOKIE } from '../require-person'

/**
 * Hands the session's cookie on to the browser: for pages alone, of this site alone, and over a safe connection where
 * the request came by one.
 *
 * @param answer the headers that the sign-in library answered with
 */
export async function setSessionCookies(answer: Headers): Promise<void> {
  const [jar, asked] = [await cookies(), await headers()]
  for (const [name, { value, 'max-age': maxAge }] of parseSetCookieHeader(answer.getSetCookie().join(', ')))
    jar.set(cookieName(name, asked), value, {
      ...{ maxAge, httpOnly: true, sameSite: 'lax', path: '/', secure: cameSafely(asked) },
    })
}

const YEAR_IN_SECONDS = 31_536_000

/** Has the browser go on in an organisation; that its person belongs there is read each time. */
export async function rememberOrganisation(organisation: string): Promise<void> {
  const [jar, asked] = [await cookies(), await headers()]
  jar.set(cookieName(ORGANISATION_COOKIE, asked), organisation, {
    ...{ maxAge: YEAR_IN_SECONDS, httpOnly: true, sameSite: 'lax', path: '/', secure: cameSafely(asked) },
  })
}
