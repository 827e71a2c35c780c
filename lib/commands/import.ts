import { pathToFileURL } from 'node:url'
import { Command } from 'commander'
import { type ReadFolder, type ReadWhole, readArchive } from '@/lib/intake/archive'
import { IntakeRefusal } from '@/lib/intake/findings'
import { writeRejected } from '@/lib/intake/write-rejected'
import { freshenScores } from '@/lib/jobs/freshen-scores'
import { LONGEST_NAME, tooLong } from '@/lib/records/text-limits'
import { type Database, openDatabase } from '@/lib/store/database'
import type { OrganisationId } from '@/lib/store/organisation-id'
import { MoveRefusal } from '@/lib/store/write/put-moved-rows'
import { getArchive } from './inner/archive-files'
import { BadArgument, type CommandIo, processIo } from './inner/bad-argument'
import { makeFilled, makeMoved } from './inner/make-filled'
import { runCommand } from './inner/run-command'
import { type Variables, withDatabase } from './inner/with-database'

type Options = { from: string; name: string; owner: string; strict?: boolean }

/**
 * `npm run import`: an archive, or a data folder with a library, as a new organisation, scored at once.
 *
 * @returns the exit code: 0; 1 where `--strict` was given and a row was rejected; 2 where nothing could be taken in
 */
export function runImport(argv: readonly string[], variables: Variables, io: CommandIo): Promise<number> {
  const command = new Command('import')
    .description('Takes in an archive of npm run export, or a folder of records with library.json.')
    .requiredOption('--from <place>', 'FILE.zip or a folder')
    .requiredOption('--name <name>', 'what the new organisation is called')
    .option('--owner <name>', 'who owns it, a person of this machine', 'Owner')
    .option('--strict', 'take nothing in and exit with 1 where a row is rejected')
  return runCommand<Options>(command, argv, io, async (options) => {
    for (const option of ['name', 'owner'] as const) {
      const reason = tooLong(options[option], LONGEST_NAME)
      if (reason !== null) throw new BadArgument(`--${option}: ${reason}`)
    }
    const archive = await open(options.from, io)
    if (!('whole' in archive)) {
      io.say(
        'Records, parts, library and fit alone: there are no plan, proposals, letters or past scores with them',
      )
      const rejected = await handBack(options.from, archive, io)
      if (rejected && options.strict) return 1
    }
    return withDatabase(variables, async ({ url }) => {
      const database = await openDatabase(url, { kind: 'command', name: 'import' })
      try {
        const organisation = await takeIn(database, archive, options, io.now)
        const vehicles = await freshenScores(database, organisation, io.now)
        io.say(`${options.name}: ${vehicles} vehicles taken in and scored`)
        return 0
      } finally {
        await database.$disconnect()
      }
    })
  })
}

async function open(from: string, { now }: CommandIo): Promise<ReadFolder | ReadWhole> {
  try {
    return readArchive(await getArchive(from), now)
  } catch (error) {
    throw error instanceof IntakeRefusal ? new BadArgument(`${from}: ${error.message}`) : error
  }
}

/** Tells what was not taken in, and writes it beside the archive to be mended. Says whether something was. */
async function handBack(from: string, { rejected }: ReadFolder, io: CommandIo): Promise<boolean> {
  if (rejected.length === 0) return false
  const [first] = rejected
  const files = await writeRejected(from.replace(/\.zip$/i, ''), rejected)
  io.say(
    `${rejected.length} rows were rejected (the first: ${first?.file}:${first?.line}: ${first?.reason}); ` +
      `they are in ${files.join(', ')}`,
  )
  return true
}

async function takeIn(
  database: Database,
  archive: ReadFolder | ReadWhole,
  { name, owner }: Options,
  now: Date,
): Promise<OrganisationId> {
  const { settings } = 'whole' in archive ? archive : archive.records
  const organisation = { name, settings, owner: { name: owner }, now }
  const made = await ('whole' in archive
    ? makeMoved(database, organisation, archive.whole).catch(refused)
    : makeFilled(database, organisation, archive))
  if (made === null) throw new BadArgument(`--name "${name}": there is an organisation of that name already`)
  return made
}

function refused(error: unknown): never {
  throw error instanceof MoveRefusal ? new BadArgument(`--from: ${error.message}`) : error
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href)
  process.exitCode = await runImport(process.argv.slice(2), process.env, processIo())
