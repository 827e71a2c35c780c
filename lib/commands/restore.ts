import { pathToFileURL } from 'node:url'
import { Command } from 'commander'
import { restore } from '@/lib/store/restore'
import { type CommandIo, processIo } from './inner/bad-argument'
import { runCommand } from './inner/run-command'
import { type Variables, withDatabase } from './inner/with-database'

/**
 * `npm run restore`: a backup into an empty place, all of it or nothing.
 *
 * @returns the exit code: 0, or 2 where nothing was restored, with one line why
 */
export function runRestore(argv: readonly string[], variables: Variables, io: CommandIo): Promise<number> {
  const command = new Command('restore')
    .description('Brings a backup back into an empty place: a new GUDGEON_HOME, or a new DATABASE_URL.')
    .requiredOption('--from <file>', 'a file that npm run backup has written')
  return runCommand<{ from: string }>(command, argv, io, ({ from }) =>
    withDatabase(variables, async ({ adminUrl }) => {
      const { madeAt, tables, rows } = await restore(adminUrl, from)
      io.say(`${rows} rows of ${tables} tables are back, as they were at ${madeAt}`)
      return 0
    }),
  )
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href)
  process.exitCode = await runRestore(process.argv.slice(2), process.env, processIo())
