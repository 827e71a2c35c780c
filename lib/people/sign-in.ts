import { betterAuth } from 'better-auth/minimal'
import { z } from 'zod'
import { connectionsOf, type Database } from '@/lib/store/database'
import { signInTables } from '@/lib/store/sign-in-tables'
import { browserKind } from './inner/browser-kind'
import { endSessionBefore } from './inner/end-session-before'
import { enterByPress } from './inner/enter-by-press'
import { logEntries } from './inner/log-entries'
import { readHostCookies } from './inner/read-host-cookies'
import { SIGN_IN_SECRET_VARIABLE } from './sign-in-secret'

const DAY_IN_SECONDS = 86_400

/** Passwords are long rather than odd: length is what makes them hard to guess (NIST SP 800-63B). */
export const PASSWORD_LENGTH = { min: 12, max: 128 }

/** The sign-in library: passwords and sessions. It is called from here alone and answers no request by itself. */
export type SignIn = ReturnType<typeof makeSignIn>

function makeSignIn(database: Database, secret: string) {
  const tables = signInTables(database)
  return betterAuth({
    appName: 'Gudgeon',
    baseURL: 'http://localhost', // for its own addresses, of which none is served
    secret,
    database: tables.database,
    emailAndPassword: {
      enabled: true,
      minPasswordLength: PASSWORD_LENGTH.min,
      maxPasswordLength: PASSWORD_LENGTH.max,
      revokeSessionsOnPasswordReset: true,
    },
    verification: { storeIdentifier: 'hashed' }, // whoever reads the table can reset no password
    // Of where a session came from, as much is kept as its owner needs to know it again.
    databaseHooks: {
      session: {
        create: {
          before: async ({ userAgent, ...session }) => ({
            data: { ...session, userAgent: browserKind(userAgent ?? ''), ipAddress: null },
          }),
        },
      },
    },
    // A page cannot set cookies while it is being made, so a session lasts from when it began, read from the
    // database each time: whoever is signed out everywhere is out at once.
    session: { expiresIn: 30 * DAY_IN_SECONDS, disableSessionRefresh: true, cookieCache: { enabled: false } },
    rateLimit: { enabled: false }, // attempts are counted by address and by account in password-entry.ts
    advanced: { cookiePrefix: 'gudgeon', database: { generateId: tables.generateId } },
    logger: { disabled: true }, // it names the mail addresses that were tried; log-entries.ts says what happened
    telemetry: { enabled: false },
    plugins: [enterByPress, readHostCookies, endSessionBefore, logEntries],
  })
}

const secretOf = z.string({ error: 'Start the product with npm start or npm run dev' }).min(32)

const made = new WeakMap<Database, SignIn>()

/** The sign-in library on a database, made once for it with the secret that the start handed over. */
export function signInOf(handle: Database): SignIn {
  const database = connectionsOf(handle)
  const kept =
    made.get(database) ?? makeSignIn(database, secretOf.parse(process.env[SIGN_IN_SECRET_VARIABLE]))
  made.set(database, kept)
  return kept
}
