import { writeFile } from 'node:fs/promises'
import { pathToFileURL } from 'node:url'
import { Command, CommanderError, InvalidArgumentError } from 'commander'
import { type FleetScores, scoreFleet } from '@/lib/decisions/score-fleet'
import { scoreLines, scoresHeader } from '@/lib/intake/score-columns'
import { type Day, parseDay } from '@/lib/units/dates'
import { BadArgument, type CommandIo, processIo } from './inner/bad-argument'
import { openFleet } from './inner/open-fleet'

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

const DEFAULT_DAYS = 90
const LONGEST_DAYS = 3650
const LONGEST_KM = 1_000_000

/**
 * `npm run score`: every component's chance of failing within a horizon, from a data folder and a library.
 *
 * @param argv the arguments after the name of the script.
 * @returns the exit code: 0, 1 where `--strict` was given and a row was rejected, 2 where it could not begin.
 */
export async function runScore(argv: readonly string[], io: CommandIo): Promise<number> {
  try {
    return await score(optionsOf(argv, io), io)
  } catch (error) {
    if (error instanceof CommanderError && error.exitCode === 0) return 0
    const message = error instanceof Error ? error.message : String(error)
    io.say(error instanceof CommanderError ? message.replaceAll('\n', ' ') : message)
    return 2
  }
}

async function score(options: Options, io: CommandIo): Promise<number> {
  const { records, library, rejected, today } = await openFleet(options.data, options.library, io)
  const asOf = options.asOf ?? today
  const horizon = options.km === undefined ? { days: options.days ?? DEFAULT_DAYS } : { km: options.km }
  if (options.learning) io.say("no fit yet: scored on the library's statement")
  const scores = scoreFleet({ records, library, asOf, horizons: [horizon], onProgress: progress(io) })
  await put(options.out, scoresCsv(scores), io)
  return options.strict && rejected.length > 0 ? 1 : 0
}

/** One piece of text a vehicle. */
function* scoresCsv({ vehicles }: FleetScores): Generator<string, void, undefined> {
  yield scoresHeader()
  for (const { components } of vehicles) yield scoreLines(components)
}

/** Tells every tenth of the way. */
function progress(io: CommandIo): (done: number, total: number) => void {
  let told = 0
  return (done, total) => {
    const tenths = Math.floor((10 * done) / Math.max(1, total))
    if (tenths > told || done === total) io.say(`scored ${done} of ${total} vehicles`)
    told = tenths
  }
}

async function put(out: string, pieces: Iterable<string>, io: CommandIo): Promise<void> {
  if (out === '-') {
    for (const piece of pieces) io.write(piece)
    return
  }
  await writeFile(out, pieces).catch((error: Error) => {
    throw new BadArgument(`--out ${out}: cannot be written (${error.message})`)
  })
}

function optionsOf(argv: readonly string[], io: CommandIo): Options {
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
    .option('--fit <file>', 'score with an earlier fit')
    .option('--strict', 'exit with 1 where a row was rejected')
    .exitOverride()
    .configureOutput({ writeOut: io.write, writeErr: () => {} })
    .parse(argv, { from: 'user' })
  const options = command.opts<Options>()
  if (options.days !== undefined && options.km !== undefined)
    throw new BadArgument('give --days or --km, not both')
  if (options.fit !== undefined)
    throw new BadArgument('--fit: this version cannot learn yet, so there is no fit to read')
  return options
}

function day(text: string): Day {
  const parsed = parseDay(text)
  if (parsed === null)
    throw new InvalidArgumentError('It must be a date that exists, written like 2026-06-30.')
  return parsed
}

const upTo =
  (most: number) =>
  (text: string): number => {
    const value = /^\d+(\.\d+)?$/.test(text) ? Number(text) : Number.NaN
    if (value > 0 && value <= most) return value
    throw new InvalidArgumentError(`It must be a number above 0 and up to ${most}.`)
  }

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  process.exitCode = await runScore(process.argv.slice(2), processIo())
}
