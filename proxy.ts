import { type NextRequest, NextResponse } from 'next/server'

/** Next's own tools for development evaluate code and style inline; what people use never does. */
const DEVELOPMENT = process.env.NODE_ENV === 'development'

/** What a page may load: what this server sends, and no script that does not carry the answer's own number. */
function contentSecurityPolicy(nonce: string): string {
  return [
    "default-src 'self'",
    `script-src 'self' 'nonce-${nonce}' 'strict-dynamic'${DEVELOPMENT ? " 'unsafe-eval'" : ''}`,
    `style-src 'self' ${DEVELOPMENT ? "'unsafe-inline'" : `'nonce-${nonce}'`}`,
    "img-src 'self' data:",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join('; ')
}

/** Gives every answer its headers; Next puts the nonce of the request's policy on the scripts it writes. */
export function proxy(request: NextRequest): NextResponse {
  const policy = contentSecurityPolicy(btoa(crypto.randomUUID()))
  const headers = new Headers(request.headers)
  headers.set('Content-Security-Policy', policy)
  const response = NextResponse.next({ request: { headers } })
  response.headers.set('Content-Security-Policy', policy)
  response.headers.set('X-Content-Type-Options', 'nosniff')
  response.headers.set('Referrer-Policy', 'same-origin')
  return response
}
