import { pathToFileURL } from 'node:url'
import { Command } from 'commander'
import { type FleetScores, scoreFleet } from '@/lib/decisions/score-fleet'
import { scoreLines, scoresHeader } from '@/lib/intake/score-columns'
import { fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import type { Day } from '@/lib/units/dates'
import { BadArgument, type CommandIo, processIo } from './inner/bad-argument'
import { fitOf, refuseFitWithoutLearning } from './inner/fit-of'
import { openFleet } from './inner/open-fleet'
import { DEFAULT_DAYS, day, LONGEST_DAYS, upTo } from './inner/option-values'
import { putResult } from './inner/put-result'
import { runCommand } from './inner/run-command'
import { tellTenths } from './inner/tell-tenths'

interface Options {
  data: string
  library: string
  asOf?: Day
  days?: number
  km?: number
  out: string
  learning: boolean
  fit?: string
  strict?: boolean
}

const LONGEST_KM = 1_000_000

/**
 * `npm run score`: every component's chance of failing within a horizon, from a data folder and a library.
 *
 * @param argv the arguments after the name of the script.
 * @returns the exit code: 0, 1 where `--strict` was given and a row was rejected, 2 where it could not begin.
 */
export function runScore(argv: readonly string[], io: CommandIo): Promise<number> {
  const command = new Command('score')
    .description(
      "Every component's chance of failing within a horizon, from a folder of records and a library.",
    )
    .requiredOption('--data <dir>', 'folder of records')
    .requiredOption('--library <file>', 'library file')
    .option('--as-of <date>', 'score as of this day (default: today in the time zone of the settings)', day)
    .option('--days <n>', `horizon in days (default: ${DEFAULT_DAYS})`, upTo(LONGEST_DAYS))
    .option('--km <n>', 'horizon in km, in the place of days', upTo(LONGEST_KM))
    .option('--out <file>', 'where the scores go; - for standard output', '-')
    .option('--no-learning', 'score on the library alone')
    .option('--fit <file>', 'score with an earlier fit in the place of one made now')
    .option('--strict', 'exit with 1 where a row was rejected')
  return runCommand<Options>(command, argv, io, (options) => score(options, io))
}

async function score(options: Options, io: CommandIo): Promise<number> {
  refuseContradictions(options)
  const { records, library, rejected, today } = await openFleet(options.data, options.library, io)
  const asOf = options.asOf ?? today
  const horizon = options.km === undefined ? { days: options.days ?? DEFAULT_DAYS } : { km: options.km }
  const fleet = fleetVehicles(records, asOf)
  const fit = await fitOf(options, { fleet, library, asOf }, io)
  const onProgress = tellTenths('scored', io)
  const scores = scoreFleet({ records, fleet, library, asOf, fit, horizons: [horizon], onProgress })
  await putResult(options.out, scoresCsv(scores), io)
  return options.strict && rejected.length > 0 ? 1 : 0
}

/** One piece of text a vehicle. */
function* scoresCsv({ vehicles }: FleetScores): Generator<string, void, undefined> {
  yield scoresHeader()
  for (const { components } of vehicles) yield scoreLines(components)
}

function refuseContradictions({ days, km, fit, learning }: Options): void {
  if (days !== undefined && km !== undefined) throw new BadArgument('give --days or --km, not both')
  refuseFitWithoutLearning({ fit, learning })
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  process.exitCode = await runScore(process.argv.slice(2), processIo())
}
