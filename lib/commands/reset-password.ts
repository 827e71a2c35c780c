import { pathToFileURL } from 'node:url'
import { Command } from 'commander'
import { makeReset, RESET_MINUTES } from '@/lib/people/password-reset'
import { ensureSignInSecret, SIGN_IN_SECRET_VARIABLE } from '@/lib/people/sign-in-secret'
import { openDatabase } from '@/lib/store/database'
import { parseEnvironment } from './environment'
import { BadArgument, type CommandIo, processIo } from './inner/bad-argument'
import { runCommand } from './inner/run-command'
import { type Variables, withDatabase } from './inner/with-database'

/**
 * `npm run reset-password`: makes a link by which somebody chooses a new password, once, and prints it alone on the last
 * line; for where no mail can be sent.
 *
 * @returns the exit code: 0, or 2 where nobody signs in with that address
 */
export function runResetPassword(
  argv: readonly string[],
  variables: Variables,
  io: CommandIo,
): Promise<number> {
  const command = new Command('reset-password')
    .description(`Makes a link for a new password, that works once within ${RESET_MINUTES} minutes.`)
    .requiredOption('--mail <address>', 'with which they sign in')
  return runCommand<{ mail: string }>(command, argv, io, ({ mail }) =>
    withDatabase(variables, async ({ url }) => {
      const link = await linkFor(mail, url, variables, io.now)
      io.say('Hand it to nobody else: whoever has it comes in as them.')
      io.write(`${link}\n`)
      return 0
    }),
  )
}

async function linkFor(mail: string, url: string, variables: Variables, now: Date): Promise<string> {
  const parsed = parseEnvironment(variables)
  if (!parsed.ok) throw new BadArgument(parsed.message)
  const { home, address } = parsed.environment
  process.env[SIGN_IN_SECRET_VARIABLE] ??= ensureSignInSecret(home)
  const database = await openDatabase(url, { kind: 'command', name: 'reset-password' })
  try {
    const made = await makeReset(database, { mail, now })
    if (!made) throw new BadArgument(`--mail "${mail}": nobody signs in with that address here`)
    return `${address}/reset/${made.key}`
  } finally {
    await database.$disconnect()
  }
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href)
  process.exitCode = await runResetPassword(process.argv.slice(2), process.env, processIo())
