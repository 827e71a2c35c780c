import { type NextRequest, NextResponse } from 'next/server'
import { ADDRESS_HEADER, commonHeaders, SAFE_CONNECTION_HEADER, UNKEPT_HEADER } from './app/response-headers'
import { logEvent } from './lib/log/log-event.mjs'

/** Next's own tools for development evaluate code and style inline; what people use never does. */
const DEVELOPMENT = process.env.NODE_ENV === 'development'

/** What a page may load: what this server sends, and no script that does not carry the answer's own number. */
function contentSecurityPolicy(nonce: string): string {
  return [
    "default-src 'self'",
    `script-src 'self' 'nonce-${nonce}' 'strict-dynamic'${DEVELOPMENT ? " 'unsafe-eval'" : ''}`,
    `style-src 'self' ${DEVELOPMENT ? "'unsafe-inline'" : `'nonce-${nonce}'`}`,
    "style-src-attr 'unsafe-inline'", // bars and dots are as long as their numbers
    "img-src 'self' data:",
    "worker-src 'self'", // the page at the vehicle, without reception
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join('; ')
}

/** As much as the form of a label may send; whoever holds one has not signed in, and is read into memory. */
const LARGEST_REPORT = 32 * 1024

type Refusal = { status: number; problem: string; words: string }

/** Why a request goes no farther; null for most. */
function refusalOf({ method, url, nextUrl, headers }: NextRequest): Refusal | null {
  // No text of the database holds it, so that every query with it would fail.
  if (url.includes('%00')) return { status: 400, problem: 'bad-address', words: 'This is no address.' }
  if (method !== 'POST' || !nextUrl.pathname.startsWith('/q/')) return null
  const length = headers.get('content-length')
  if (length === null) return { status: 411, problem: 'no-length', words: 'Say how long it is.' }
  if (Number(length) <= LARGEST_REPORT) return null
  return { status: 413, problem: 'too-large', words: 'That is too long.' }
}

/** Gives every page its headers; Next puts the nonce of the request's policy on the scripts it writes. */
export function proxy(request: NextRequest): NextResponse {
  const policy = contentSecurityPolicy(btoa(crypto.randomUUID()))
  const refusal = refusalOf(request)
  const response = refusal ? refused(refusal) : led(request, policy)
  for (const { key, value } of headersOfAnswer(request, policy)) response.headers.set(key, value)
  return response
}

function refused({ status, problem, words }: Refusal): NextResponse {
  logEvent('request refused', { problem, status })
  return new NextResponse(`${words}\n`, { status })
}

function led(request: NextRequest, policy: string): NextResponse {
  const headers = new Headers(request.headers)
  headers.set('Content-Security-Policy', policy)
  headers.set(ADDRESS_HEADER, request.nextUrl.pathname + request.nextUrl.search)
  return NextResponse.next({ request: { headers } })
}

/** Files that are the same for everybody, of which a browser may keep a copy. */
const FOR_EVERYBODY = /^\/[\w.-]+\.(png|svg|js|webmanifest|schema\.json)$/

const headersOfAnswer = ({ nextUrl, headers }: NextRequest, policy: string) => [
  ...commonHeaders(policy),
  ...(FOR_EVERYBODY.test(nextUrl.pathname) ? [] : [UNKEPT_HEADER]),
  ...(headers.get('x-forwarded-proto') === 'https' ? [SAFE_CONNECTION_HEADER] : []),
]

/** Not what carries large bodies (a proxy cuts them) or is no page; next.config.ts gives those their headers. */
export const config = { matcher: '/((?!api/|intake/upload|photographs/|_next/).*)' }
