import { parseSetCookieHeader } from 'better-auth/cookies'
import { cookies, headers } from 'next/headers'
import { cameSafely, cookieName } from '@/lib/people/host-cookies'

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
