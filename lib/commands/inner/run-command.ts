import { type Command, CommanderError } from 'commander'
import type { CommandIo } from './bad-argument'

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
