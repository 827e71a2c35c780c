/** The header in which the proxy tells a page its own address, so that it can be come back to after signing in. */
export const ADDRESS_HEADER = 'x-gudgeon-address'

/** The policy of answers that are no pages: nothing may be loaded, framed or sent from them. */
export const NO_PAGE_POLICY =
  "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

/** What every answer says to the browser. */
export const commonHeaders = (policy: string) => [
  { key: 'Content-Security-Policy', value: policy },
  { key: 'X-Content-Type-Options', value: 'nosniff' },
  { key: 'Referrer-Policy', value: 'same-origin' },
  { key: 'Cross-Origin-Opener-Policy', value: 'same-origin' },
]
