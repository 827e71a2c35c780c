import { APIError, createAuthMiddleware } from 'better-auth/api'
import type { EventName } from '@/lib/log/events.mjs'
import { logEvent } from '@/lib/log/log-event.mjs'
import { accountMark, addressMark } from './marks'

/** What calls of the sign-in library come to, as the log has it. */
const TOLD: Readonly<Record<string, { done: EventName; failed: EventName; way: string }>> = {
  '/sign-in/email': { done: 'sign-in succeeded', failed: 'sign-in failed', way: 'password' },
  '/enter-by-press': { done: 'sign-in succeeded', failed: 'sign-in failed', way: 'press' },
  '/change-password': { done: 'password changed', failed: 'password not changed', way: 'knowing-it' },
  '/reset-password': { done: 'password changed', failed: 'password not changed', way: 'link' },
}

/** Writes to the log who came in and who did not; the sign-in library's own lines name mail addresses. */
export const logEntries = {
  id: 'log-entries',
  hooks: {
    after: [
      {
        matcher: ({ path }: { path?: string }) => path !== undefined && path in TOLD,
        handler: createAuthMiddleware(async ({ path = '', body, headers, context }) => {
          const told = TOLD[path]
          if (!told) return
          const { way } = told
          const from = addressMark(headers ?? new Headers())
          if (context.returned instanceof APIError)
            logEvent(told.failed, { way, account: accountMark(body?.email), from })
          else logEvent(told.done, { way, person: context.newSession?.user.id, from })
        }),
      },
    ],
  },
}
