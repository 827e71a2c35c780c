import { APIError, createAuthMiddleware } from 'better-auth/api'
import { logEvent } from '@/lib/log/log-event.mjs'
import { accountMark, addressMark } from './marks'

/** By which call of the sign-in library somebody comes in, and how the log calls it. */
const WAYS: Readonly<Record<string, string>> = {
  '/sign-in/email': 'password',
  '/enter-by-press': 'press',
  '/change-password': 'password-changed',
  '/reset-password': 'password-reset',
}

/** Writes to the log who came in and who did not; the sign-in library's own lines name mail addresses. */
export const logEntries = {
  id: 'log-entries',
  hooks: {
    after: [
      {
        matcher: ({ path }: { path?: string }) => path !== undefined && path in WAYS,
        handler: createAuthMiddleware(async ({ path, body, headers, context }) => {
          const from = addressMark(headers ?? new Headers())
          if (context.returned instanceof APIError)
            logEvent('sign-in failed', { way: WAYS[path], account: accountMark(body?.email), from })
          else logEvent('sign-in succeeded', { way: WAYS[path], person: context.newSession?.user.id, from })
        }),
      },
    ],
  },
}
