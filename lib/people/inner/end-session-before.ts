import { createAuthMiddleware } from 'better-auth/api'

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
          if (newSession && before && before !== newSession.session.token)
            await internalAdapter.deleteSession(before)
        }),
      },
    ],
  },
}
