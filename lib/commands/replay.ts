import { pathToFileURL } from 'node:url'
import { Command } from 'commander'
import type { ReplayCase } from '@/lib/replay/judge'
import { lookBack, type ReplayProgress } from '@/lib/replay/look-back'
import { lookBackTogether } from '@/lib/replay/look-back-together'
import { judgeAll, type ReplayWork } from '@/lib/replay/replay'
import { type Day, formatDay } from '@/lib/units/dates'
import { BadArgument, type CommandIo, processIo } from './inner/bad-argument'
import { openFleet } from './inner/open-fleet'
import { DEFAULT_DAYS, day, LONGEST_DAYS, upTo } from './inner/option-values'
import { putResult } from './inner/put-result'
import { runCommand } from './inner/run-command'

interface Options {
  data: string
  library: string
  from: Day
  to: Day
  every: number
  days: number
  out: string
  learning: boolean
  strict?: boolean
}

/** How the cut-offs are gone through. */
type LookBack = (
  work: ReplayWork,
  onProgress: (progress: ReplayProgress) => void,
) => ReplayCase[][] | Promise<ReplayCase[][]>

const DEFAULT_EVERY = 30
const MOST_CUT_OFFS = 1000

/**
 * `npm run replay`: rewinds the records to past dates, scores as was possible then, and judges by what happened.
 *
 * @param argv the arguments after the name of the script.
 * @param goThrough how the cut-offs are gone through: many at once takes less time
 * @returns the exit code: 0, 1 where `--strict` was given and a row was rejected, 2 where it could not begin.
 */
export function runReplay(
  argv: readonly string[],
  io: CommandIo,
  goThrough: LookBack = lookBack,
): Promise<number> {
  const command = new Command('replay')
    .description('How right the scores of past dates would have been, beside plainer ways to know.')
    .requiredOption('--data <dir>', 'folder of records')
    .requiredOption('--library <file>', 'library file')
    .requiredOption('--from <date>', 'the first day to which the records are rewound', day)
    .requiredOption('--to <date>', 'the last day to which they may be', day)
    .option('--every <days>', 'days from one to the next', upTo(LONGEST_DAYS), DEFAULT_EVERY)
    .option('--days <n>', 'horizon of the scores in days', upTo(LONGEST_DAYS), DEFAULT_DAYS)
    .option('--out <file>', 'where the results go, as JSON; - for standard output', '-')
    .option('--no-learning', 'the product says what the library says')
    .option('--strict', 'exit with 1 where a row was rejected')
  return runCommand<Options>(command, argv, io, (options) => judgePast(options, io, goThrough))
}

async function judgePast(options: Options, io: CommandIo, goThrough: LookBack): Promise<number> {
  const { from, to, every, days, out, learning, strict } = options
  refuseWrongSpan(options)
  const { records, library, rejected, today } = await openFleet(options.data, options.library, io)
  if (to >= today) throw new BadArgument(`--to ${formatDay(to)}: what happened after it is not known yet`)
  const work = { records, library, plan: { from, to, every, days }, learning }
  const cases = await goThrough(work, ({ done, total }) => io.say(`judged ${done} of ${total} days`))
  const result = judgeAll(work, cases)
  await putResult(out, [`${JSON.stringify(result, null, 2)}\n`], io)
  return strict && rejected.length > 0 ? 1 : 0
}

function refuseWrongSpan({ from, to, every, days }: Options): void {
  if (to < from) throw new BadArgument(`--to ${formatDay(to)}: lies before --from ${formatDay(from)}`)
  if (!Number.isInteger(every)) throw new BadArgument(`--every ${every}: must be whole days`)
  if (!Number.isInteger(days)) throw new BadArgument(`--days ${days}: must be whole days`)
  if ((to - from) / every >= MOST_CUT_OFFS)
    throw new BadArgument(`--every ${every}: that would be more than ${MOST_CUT_OFFS} days to look back from`)
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  process.exitCode = await runReplay(process.argv.slice(2), processIo(), lookBackTogether)
}
