import { type Command, CommanderError } from 'commander'
import { type StartedDatabase, startDatabase } from '@/lib/store/start-database'
import { parseEnvironment } from '../environment'
import { BadArgument, type CommandIo } from './bad-argument'

/** Where the database of a command is: its own surroundings, replaced in tests. */
export type Variables = Record<string, string | undefined>

/**
 * Reads a command's arguments and does it.
 *
 * @param argv the arguments after the name of the script
 * @returns the exit code: that of `work`, 0 after the help, 2 where it could not begin or went wrong, with one line why
 */
export async function runCommand<Options>(
  command: Command,
  argv: readonly string[],
  io: CommandIo,
  work: (options: Options) => Promise<number>,
): Promise<number> {
  try {
    command
      .exitOverride()
      .configureOutput({ writeOut: io.write, writeErr: () => {} })
      .parse(argv, { from: 'user' })
    return await work(command.opts() as Options)
  } catch (error) {
    if (error instanceof CommanderError && error.exitCode === 0) return 0
    const message = error instanceof Error ? error.message : String(error)
    io.say(error instanceof CommanderError ? message.replaceAll('\n', ' ') : message)
    return 2
  }
}

/** Brings the database up (or joins it where the product runs), and lets go of it afterwards. */
export async function withDatabase<T>(
  variables: Variables,
  work: (started: StartedDatabase) => Promise<T>,
): Promise<T> {
  const parsed = parseEnvironment(variables)
  if (!parsed.ok) throw new BadArgument(parsed.message)
  const started = await startDatabase(parsed.environment)
  try {
    return await work(started)
  } finally {
    await started.stop()
  }
}
