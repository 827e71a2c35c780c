import http from 'node:http'
import https from 'node:https'
import { isPublic, literalOf, type WebhookRules, wrongWithAddress } from '../webhook-address'

/** Finds the addresses of a name; an error where it has none. */
export type Resolve = (name: string) => Promise<string[]>

/** Whoever does not answer within so long is tried again later. */
export const ANSWER_WITHIN_MS = 10_000
/** Headers of an answer; of its body nothing is read. */
const LARGEST_HEADERS = 16 * 1024

/** What came of it: `delivered`, or why not. `status-…` is an answer that is no yes. */
export type Outcome =
  | 'delivered'
  | 'not-allowed'
  | 'no-such-name'
  | 'no-connection'
  | 'no-answer'
  | 'redirects'
  | `status-${number}`

export type Posting = {
  address: string
  body: string
  headers: Record<string, string>
}

/**
 * Sends a body once. The name is looked up once, every address that it has is held against the rules, and the connection
 * is made to one that was: a name that leads elsewhere a moment later leads nowhere. Redirects are not followed.
 */
export async function postOnce(
  { address, body, headers }: Posting,
  rules: WebhookRules,
  resolve: Resolve,
): Promise<Outcome> {
  if (wrongWithAddress(address, rules) !== null) return 'not-allowed'
  const url = new URL(address)
  const ends = AbortSignal.timeout(ANSWER_WITHIN_MS)
  const found = await within(addressesOf(url.hostname, resolve), ends)
  if (found === null) return 'no-such-name'
  const [to] = found
  if (to === undefined) return 'no-such-name'
  if (!rules.anywhere && !found.every(isPublic)) return 'not-allowed'
  return post(url, to, { body, headers, ends })
}

async function addressesOf(hostname: string, resolve: Resolve): Promise<string[]> {
  const literal = literalOf(hostname)
  return literal === null ? resolve(hostname) : [literal]
}

/** What a promise brings before the time is over; null where it fails or comes too late. */
const within = <T>(work: Promise<T>, ends: AbortSignal): Promise<T | null> =>
  new Promise((done) => {
    ends.addEventListener('abort', () => done(null), { once: true })
    work.then(done, () => done(null))
  })

function post(
  url: URL,
  to: string,
  { body, headers, ends }: Omit<Posting, 'address'> & { ends: AbortSignal },
): Promise<Outcome> {
  const isSecure = url.protocol === 'https:'
  const named = literalOf(url.hostname) === null
  return new Promise((done) => {
    const request = (isSecure ? https : http).request({
      ...{
        method: 'POST',
        host: to,
        port: url.port || (isSecure ? 443 : 80),
        path: url.pathname + url.search,
      },
      ...(isSecure && named ? { servername: url.hostname } : {}),
      ...{ signal: ends, agent: false, maxHeaderSize: LARGEST_HEADERS },
      headers: {
        ...headers,
        Host: url.host,
        'Content-Type': 'application/json',
        'Content-Length': Buffer.byteLength(body),
        'User-Agent': 'Gudgeon',
      },
    })
    request.on('response', ({ statusCode = 0 }) => {
      done(outcomeOf(statusCode))
      request.destroy() // what the answer holds is nobody's concern
    })
    request.on('error', () => done(ends.aborted ? 'no-answer' : 'no-connection'))
    request.end(body)
  })
}

function outcomeOf(status: number): Outcome {
  if (status >= 200 && status < 300) return 'delivered'
  return status >= 300 && status < 400 ? 'redirects' : `status-${status}`
}
