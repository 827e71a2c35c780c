import { pathToFileURL } from 'node:url'
import { Command } from 'commander'
import { fitText } from '@/lib/intake/fit-file'
import { fitFleet } from '@/lib/scoring/fit-fleet'
import { fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import type { Day } from '@/lib/units/dates'
import { type CommandIo, processIo } from './inner/bad-argument'
import { openFleet } from './inner/open-fleet'
import { day } from './inner/option-values'
import { putResult } from './inner/put-result'
import { runCommand } from './inner/run-command'
import { tellOfFit } from './inner/tell-of-fit'
import { tellOfSigns } from './inner/tell-of-signs'
import { tellFollowed } from './inner/tell-tenths'

interface Options {
  data: string
  library: string
  asOf?: Day
  out: string
  strict?: boolean
}

/**
 * `npm run fit`: what the records of a folder teach of each weak point's life.
 *
 * @param argv the arguments after the name of the script.
 * @returns the exit code: 0, 1 where `--strict` was given and a row was rejected, 2 where it could not begin.
 */
export function runFit(argv: readonly string[], io: CommandIo): Promise<number> {
  const command = new Command('fit')
    .description('What the records of a folder teach of the life of each weak point, as JSON.')
    .requiredOption('--data <dir>', 'folder of records')
    .requiredOption('--library <file>', 'library file')
    .option('--as-of <date>', 'learn from records up to this day (default: today)', day)
    .option('--out <file>', 'where the fit goes; - for standard output', '-')
    .option('--strict', 'exit with 1 where a row was rejected')
  return runCommand<Options>(command, argv, io, (options) => learn(options, io))
}

async function learn(options: Options, io: CommandIo): Promise<number> {
  const { records, library, rejected, today } = await openFleet(options.data, options.library, io)
  const asOf = options.asOf ?? today
  const fleet = fleetVehicles(records, asOf)
  const learned = fitFleet({ fleet, library, asOf }, tellFollowed(io))
  tellOfFit(learned, io)
  tellOfSigns(learned, library, io)
  await putResult(options.out, [fitText(learned, library)], io)
  return options.strict && rejected.length > 0 ? 1 : 0
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  process.exitCode = await runFit(process.argv.slice(2), processIo())
}
