/** What browsers take over a safe connection alone, for this host and no other (RFC 6265bis, 4.1.3.2). */
const HOST_PREFIX = '__Host-'

/** Whether a request came by https, as whatever stands before this server says. */
export const cameSafely = (headers: Headers): boolean => headers.get('x-forwarded-proto') === 'https'

/** What a cookie of ours is called at the browser of whoever came by these headers. */
export const cookieName = (name: string, headers: Headers): string =>
  cameSafely(headers) ? `${HOST_PREFIX}${name}` : name

/**
 * The cookies of a request under the names that we know them by. By https only what the browser vouches for counts:
 * another host of the same domain could have planted anything else.
 *
 * @returns the value of a Cookie header
 */
export function ownCookies(headers: Headers): string {
  const cookies = (headers.get('cookie') ?? '').split(';').map((cookie) => cookie.trim())
  if (!cameSafely(headers)) return cookies.join('; ')
  return cookies
    .filter((cookie) => cookie.startsWith(HOST_PREFIX))
    .map((cookie) => cookie.slice(HOST_PREFIX.length))
    .join('; ')
}
