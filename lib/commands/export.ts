import { pathToFileURL } from 'node:url'
import { Command } from 'commander'
import { writeArchive } from '@/lib/intake/archive'
import { type Database, openDatabase } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { readFitInForce } from '@/lib/store/read/fit-in-force'
import { readHistory } from '@/lib/store/read/history'
import { readLibraryInForce } from '@/lib/store/read/library-in-force'
import { readMovedRows } from '@/lib/store/read/moved-rows'
import { readPartsToWrite } from '@/lib/store/read/part-lines'
import { readRecords } from '@/lib/store/read/records'
import { type OrganisationScope, withOrganisation } from '@/lib/store/with-organisation'
import { putArchive } from './inner/archive-files'
import { type CommandIo, processIo } from './inner/bad-argument'
import { organisationNamed } from './inner/organisation-named'
import { runCommand } from './inner/run-command'
import { type Variables, withDatabase } from './inner/with-database'

type Options = { organisation: string; out: string }

/**
 * `npm run export`: one organisation as an archive: in the formats of a data folder its records as they stand, its
 * library with the versions before, its settings, and who entered what; and all of its rows that cannot be reckoned again.
 *
 * @returns the exit code: 0, or 2 where it could not be written
 */
export function runExport(argv: readonly string[], variables: Variables, io: CommandIo): Promise<number> {
  const command = new Command('export')
    .description('Writes one organisation as CSV files, library and settings, which npm run import takes in.')
    .requiredOption('--organisation <name>', 'its name')
    .requiredOption('--out <place>', 'FILE.zip, or a folder that is empty or not there')
  return runCommand<Options>(command, argv, io, ({ organisation, out }) =>
    withDatabase(variables, async ({ url }) => {
      const database = await openDatabase(url, { kind: 'command', name: 'export' })
      try {
        const archive = await archiveOf(database, organisation, io.now)
        await putArchive(out, archive, io.now)
        io.say(`${organisation}: ${archive.size} files written to ${out}`)
        return 0
      } finally {
        await database.$disconnect()
      }
    }),
  )
}

async function archiveOf(database: Database, name: string, now: Date) {
  const found = await organisationNamed(database, name)
  const work = async (scope: OrganisationScope) => {
    const library = (await readLibraryInForce(scope))?.content ?? null
    const fit = (await readFitInForce(scope))?.content ?? null
    const [records, history] = [await readRecords(scope), await readHistory(scope)]
    const parts = await readPartsToWrite(scope)
    const whole = await readMovedRows(scope)
    return writeArchive({ organisation: name, records, parts, library, fit, history, whole }, now)
  }
  return withOrganisation(database, organisationId(found.id), work, 'whole')
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href)
  process.exitCode = await runExport(process.argv.slice(2), process.env, processIo())
