import { pathToFileURL } from 'node:url'
import { Command } from 'commander'
import { findFault } from '@/lib/decisions/fault-finding'
import { VehicleScorer } from '@/lib/decisions/score-fleet'
import { orderObject } from '@/lib/intake/decision-columns'
import { fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import type { Day } from '@/lib/units/dates'
import { BadArgument, type CommandIo, processIo } from './inner/bad-argument'
import { fitOf, refuseFitWithoutLearning } from './inner/fit-of'
import { openFleet } from './inner/open-fleet'
import { day, upTo } from './inner/option-values'
import { putResult } from './inner/put-result'
import { runCommand } from './inner/run-command'

interface Options {
  data: string
  library: string
  unit: string
  asOf?: Day
  limit?: number
  out: string
  learning: boolean
  fit?: string
  strict?: boolean
}

const MOST_SPENT = 1e9

/**
 * `npm run order`: in which order to look for the fault behind what was seen on one vehicle.
 *
 * @param argv the arguments after the name of the script.
 * @returns the exit code: 0, 1 where `--strict` was given and a row was rejected, 2 where it could not begin.
 */
export function runOrder(argv: readonly string[], io: CommandIo): Promise<number> {
  const command = new Command('order')
    .description('In which order to look for the fault behind what was seen on one vehicle.')
    .requiredOption('--data <dir>', 'folder of records')
    .requiredOption('--library <file>', 'library file')
    .requiredOption('--unit <number>', 'the vehicle')
    .option('--as-of <date>', 'as of this day (default: today in the time zone of the settings)', day)
    .option('--limit <money>', 'stop before more than this is spent', upTo(MOST_SPENT))
    .option('--out <file>', 'where the order goes, as JSON; - for standard output', '-')
    .option('--no-learning', 'by the library alone')
    .option('--fit <file>', 'by an earlier fit in the place of one made now')
    .option('--strict', 'exit with 1 where a row was rejected')
  return runCommand<Options>(command, argv, io, (options) => order(options, io))
}

async function order(options: Options, io: CommandIo): Promise<number> {
  const { unit, limit, out, strict } = options
  refuseFitWithoutLearning(options)
  const { records, library, rejected, today } = await openFleet(options.data, options.library, io)
  const asOf = options.asOf ?? today
  const fleet = fleetVehicles(records, asOf)
  const one = fleet.find(({ records: its }) => its.vehicle.unit === unit)
  if (!one) throw new BadArgument(`--unit ${unit}: there is no such vehicle`)
  if (!library.families.some(({ key }) => key === one.records.vehicle.family))
    throw new BadArgument(
      `--unit ${unit}: the library does not know its engine ${one.records.vehicle.family}`,
    )
  const fit = await fitOf(options, { fleet, library, asOf }, io)
  const scorer = new VehicleScorer({ library, settings: records.settings, asOf, fit, horizons: [] })
  const ground = scorer.groundOf(one)
  const found = ground && findFault(ground, limit)
  if (!found) io.say(`${unit}: nothing was seen lately that a weak point of the library causes`)
  await putResult(out, [`${JSON.stringify(orderObject(unit, found), null, 2)}\n`], io)
  return strict && rejected.length > 0 ? 1 : 0
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  process.exitCode = await runOrder(process.argv.slice(2), processIo())
}
