import { logEvent } from '@/lib/log/log-event.mjs'
import { held } from './held'
import { Problem } from './problem'

/** Requests that a token may make in a window; a window begins with its first request. */
export const MOST_REQUESTS = 7200
const WINDOW_MS = 60_000
const POLICY = `"token";q=${MOST_REQUESTS};w=${WINDOW_MS / 1000}`

type Window = { since: number; requests: number }

/** In the memory of this process: several web servers would each count their own. */
const windowsOfTokens = () => held('rate-limit', () => new Map<string, Window>())

/**
 * Counts a request of a token.
 *
 * @returns what every answer says of the limit (the RateLimit header fields of the IETF's draft)
 * @throws Problem `too-many-requests`
 */
export function countRequest(token: string, now: Date): Record<string, string> {
  const window = windowOf(token, now.getTime())
  window.requests++
  const seconds = Math.max(1, Math.ceil((window.since + WINDOW_MS - now.getTime()) / 1000))
  const left = Math.max(0, MOST_REQUESTS - window.requests)
  const headers = { 'RateLimit-Policy': POLICY, RateLimit: `"token";r=${left};t=${seconds}` }
  if (window.requests <= MOST_REQUESTS) return headers
  if (window.requests === MOST_REQUESTS + 1) logEvent('rate limit hit', { limit: 'token', token })
  const detail = `This token has made ${MOST_REQUESTS} requests within a minute; go on in ${seconds} s`
  throw new Problem('too-many-requests', detail, {}, { ...headers, 'Retry-After': String(seconds) })
}

function windowOf(token: string, now: number): Window {
  const windows = windowsOfTokens()
  const known = windows.get(token)
  if (known && now - known.since < WINDOW_MS && now >= known.since) return known
  for (const [other, { since }] of windows) if (now - since >= WINDOW_MS) windows.delete(other)
  const window = { since: now, requests: 0 }
  windows.set(token, window)
  return window
}
