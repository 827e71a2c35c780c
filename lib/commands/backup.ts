import { pathToFileURL } from 'node:url'
import { Command } from 'commander'
import { backUp } from '@/lib/store/back-up'
import { type CommandIo, processIo } from './inner/bad-argument'
import { runCommand } from './inner/run-command'
import { type Variables, withDatabase } from './inner/with-database'

/**
 * `npm run backup`: the whole installation in one file, as it is at this moment, while it is in use.
 *
 * @returns the exit code: 0, or 2 where it could not be written
 */
export function runBackup(argv: readonly string[], variables: Variables, io: CommandIo): Promise<number> {
  const command = new Command('backup')
    .description('Writes everything that the installation holds into one file, while it is in use.')
    .requiredOption('--out <file>', 'the file to write; replaced where it is there')
  return runCommand<{ out: string }>(command, argv, io, ({ out }) =>
    withDatabase(variables, async ({ adminUrl }) => {
      const { tables, rows } = await backUp(adminUrl, out, io.now)
      io.say(`${rows} rows of ${tables} tables written to ${out}`)
      return 0
    }),
  )
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href)
  process.exitCode = await runBackup(process.argv.slice(2), process.env, processIo())
