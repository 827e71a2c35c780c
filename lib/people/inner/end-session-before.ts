import { createAuthMiddleware } from 'better-auth/api'
import { logEvent } from '@/lib/log/log-event.mjs'

/** Whoever signs in over a session leaves it: it ends at the server too, and not by losing its cookie alone. */
export const endSessionBefore = {
  id: 'end-session-before',
  hooks: {
    after: [
      {
        matcher: ({ path }: { path?: string }) => path === '/sign-in/email' || path === '/enter-by-press',
        handler: createAuthMiddleware(async (asked) => {
          const { newSession, authCookies, secret, internalAdapter } = asked.context
          const before = await asked.getSignedCookie(authCookies.sessionToken.name, secret)
          if (!newSession || !before || before === newSession.session.token) return
          const found = await internalAdapter.findSession(before)
          if (!found) return
          await internalAdapter.deleteSession(before)
          logEvent('session ended', { person: found.user.id, scope: 'one', by: newSession.user.id })
        }),
      },
    ],
  },
}
