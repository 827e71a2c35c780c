import { pathToFileURL } from 'node:url'
import { Command, InvalidArgumentError } from 'commander'
import { type Database, openDatabase } from '@/lib/store/database'
import { organisationId } from '@/lib/store/organisation-id'
import { type ChainBreak, type ChainEnd, type ChainFound, readAuditChain } from '@/lib/store/read/audit-chain'
import { withOrganisation } from '@/lib/store/with-organisation'
import { type CommandIo, processIo } from './inner/bad-argument'
import { organisationNamed } from './inner/organisation-named'
import { runCommand } from './inner/run-command'
import { type Variables, withDatabase } from './inner/with-database'

type Options = { organisation: string; seen?: ChainEnd }

const BROKEN: Record<ChainBreak['reason'], string> = {
  missing: 'is missing',
  'line-changed': 'is not the one that was written there',
  'content-changed': 'says something else than it did',
  'content-gone': 'has lost what it said, and nobody erased it',
  'not-the-one-seen': 'is not the one that was seen there',
}

/**
 * `npm run audit`: holds an organisation's audit trail against its own chain of hashes, and prints its end, to be kept
 * elsewhere and asked for by `--seen` the next time.
 *
 * @returns the exit code: 0 where it is whole; 1 where it is not; 2 where there is no such organisation
 */
export function runAudit(argv: readonly string[], variables: Variables, io: CommandIo): Promise<number> {
  const command = new Command('audit')
    .description('Checks that nobody has changed the audit trail, and prints where it ends.')
    .requiredOption('--organisation <name>', 'whose trail')
    .option('--seen <place:hash>', 'what was printed an earlier time', seen)
  return runCommand<Options>(command, argv, io, (options) =>
    withDatabase(variables, async ({ url }) => {
      const database = await openDatabase(url, { kind: 'command', name: 'audit' })
      try {
        return tell(await check(database, options), io)
      } finally {
        await database.$disconnect()
      }
    }),
  )
}

async function check(database: Database, { organisation, seen = undefined }: Options): Promise<ChainFound> {
  const { id } = await organisationNamed(database, organisation)
  return withOrganisation(
    database,
    organisationId(id),
    (scope) => readAuditChain(scope, seen ?? null),
    'whole',
  )
}

function tell(found: ChainFound, io: CommandIo): number {
  if (!found.ok) {
    io.say(`The audit trail is broken: line ${found.place} ${BROKEN[found.reason]}`)
    return 1
  }
  io.say(`${found.lines} lines, each behind the one before it as it was written`)
  if (found.end) io.write(`${found.end.place}:${found.end.hash}\n`)
  return 0
}

function seen(text: string): ChainEnd {
  const [, place, hash] = /^(\d{1,15}):([0-9a-f]{64})$/.exec(text) ?? []
  if (place === undefined || hash === undefined)
    throw new InvalidArgumentError('It must be the place and the hash that were printed, as 120:9f86d0….')
  return { place: Number(place), hash }
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href)
  process.exitCode = await runAudit(process.argv.slice(2), process.env, processIo())
