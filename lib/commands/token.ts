import { pathToFileURL } from 'node:url'
import { Command, InvalidArgumentError } from 'commander'
import { makeToken } from '@/lib/people/tokens'
import { LONGEST_NAME, tooLong } from '@/lib/records/text-limits'
import { type Database, openDatabase } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { readOrganisations } from '@/lib/store/read/organisations'
import { ROLES, type Role } from '@/lib/store/role'
import { withOrganisation } from '@/lib/store/with-organisation'
import { BadArgument, type CommandIo, processIo } from './inner/bad-argument'
import { runCommand } from './inner/run-command'
import { type Variables, withDatabase } from './inner/with-database'

type Options = { organisation?: string; role?: Role; name: string }

/**
 * `npm run token`: makes a token for the machine interface and prints it alone on the last line; without arguments
 * prints the names of the organisations, one a line.
 *
 * @returns the exit code: 0, or 2 where there is no such organisation or role
 */
export function runToken(argv: readonly string[], variables: Variables, io: CommandIo): Promise<number> {
  const command = new Command('token')
    .description('Makes a token for the machine interface; without arguments lists the organisations.')
    .option('--organisation <name>', 'whose records it is for')
    .option('--role <role>', `what it may do: ${ROLES.join(', ')}`, role)
    .option('--name <name>', 'what the token is called', 'made on the command line')
  return runCommand<Options>(command, argv, io, (options) =>
    withDatabase(variables, async ({ url }) => {
      const database = await openDatabase(url, { kind: 'command', name: 'token' })
      try {
        for (const line of await answer(database, options, io.now)) io.write(`${line}\n`)
        return 0
      } finally {
        await database.$disconnect()
      }
    }),
  )
}

async function answer(database: Database, options: Options, now: Date): Promise<string[]> {
  const { organisation, role, name } = options
  const organisations = await readOrganisations(database)
  const names = organisations.map((each) => each.name)
  if (organisation === undefined && role === undefined) return names
  if (organisation === undefined)
    throw new BadArgument('--organisation is missing: say whose records it is for')
  if (role === undefined) throw new BadArgument(`--role is missing: one of ${ROLES.join(', ')}`)
  const found = organisations.find((each) => each.name === organisation)
  if (!found)
    throw new BadArgument(`--organisation "${organisation}": there is none; there are: ${names.join(', ')}`)
  const reason = tooLong(name, LONGEST_NAME)
  if (reason !== null) throw new BadArgument(`--name: ${reason}`)
  const token = { name, role, by: null, now }
  return [
    await withOrganisation(database, organisationId(found.id), (scope) => makeToken(scope, token), 'write'),
  ]
}

function role(text: string): Role {
  const known = ROLES.find((each) => each === text)
  if (!known) throw new InvalidArgumentError(`It must be one of ${ROLES.join(', ')}.`)
  return known
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href)
  process.exitCode = await runToken(process.argv.slice(2), process.env, processIo())
