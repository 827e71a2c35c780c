/** The header in which the proxy tells a page its own address, so that it can be come back to after signing in. */
export const ADDRESS_HEADER = 'x-gudgeon-address'

/** The policy of answers that are no pages: nothing may be loaded, framed or sent from them. */
export const NO_PAGE_POLICY =
  "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

/** By https alone: this host is asked by https for a year (RFC 6797); others of its domain are not ours to speak for. */
export const SAFE_CONNECTION_HEADER = { key: 'Strict-Transport-Security', value: 'max-age=31536000' }

/** What everybody's answer and nobody's cache is: pages and files are made for whoever is signed in. */
export const UNKEPT_HEADER = { key: 'Cache-Control', value: 'private, no-store' }

/** What every answer says to the browser. */
export const commonHeaders = (policy: string) => [
  { key: 'Content-Security-Policy', value: policy },
  { key: 'X-Content-Type-Options', value: 'nosniff' },
  { key: 'Referrer-Policy', value: 'same-origin' },
  { key: 'Cross-Origin-Opener-Policy', value: 'same-origin' },
  { key: 'Cross-Origin-Resource-Policy', value: 'same-origin' },
]
