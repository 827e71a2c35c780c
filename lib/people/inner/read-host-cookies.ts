import { createAuthMiddleware } from 'better-auth/api'
import { ownCookies } from '../host-cookies'

/** Has the sign-in library find its cookies, which by https go under names that it does not know. */
export const readHostCookies = {
  id: 'read-host-cookies',
  hooks: {
    before: [
      {
        matcher: ({ headers }: { headers?: Headers }) => headers?.has('cookie') ?? false,
        handler: createAuthMiddleware(async ({ headers }) =>
          headers ? { context: { headers: new Headers({ cookie: ownCookies(headers) }) } } : undefined,
        ),
      },
    ],
  },
}
