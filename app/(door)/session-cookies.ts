import { parseSetCookieHeader } from 'better-auth/cookies'
import { cookies, headers } from 'next/headers'

/**
 * Hands the session's cookie on to the browser: for pages alone, of this site alone, and over a safe connection where
 * the request came by one.
 *
 * @param answer the headers that the sign-in library answered with
 */
export async function setSessionCookies(answer: Headers): Promise<void> {
  const [jar, secure] = [await cookies(), (await headers()).get('x-forwarded-proto') === 'https']
  for (const [name, { value, 'max-age': maxAge }] of parseSetCookieHeader(answer.getSetCookie().join(', ')))
    jar.set(name, value, { maxAge, httpOnly: true, sameSite: 'lax', path: '/', secure })
}
