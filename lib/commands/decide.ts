import { pathToFileURL } from 'node:url'
import { Command } from 'commander'
import loadHighs from 'highs'
import type { AdviceGround } from '@/lib/decisions/advice'
import { type Prices, pricesOf } from '@/lib/decisions/costs'
import { decideFleet, partsFor, type VehicleDecision } from '@/lib/decisions/decide-fleet'
import { FleetMoneyGathering } from '@/lib/decisions/fleet-money'
import { checkPlanRequest } from '@/lib/decisions/plan-request'
import { type Plan, planVisits } from '@/lib/decisions/plan-visits'
import { looksPerYear } from '@/lib/decisions/policy-ground'
import { decisionsObject } from '@/lib/intake/decision-columns'
import { type FleetVehicle, fleetVehicles } from '@/lib/scoring/fleet-vehicles'
import type { Day } from '@/lib/units/dates'
import { BadArgument, type CommandIo, processIo } from './inner/bad-argument'
import { fitOf, refuseFitWithoutLearning } from './inner/fit-of'
import { openFleet } from './inner/open-fleet'
import { day, LONGEST_DAYS, upTo } from './inner/option-values'
import { putResult } from './inner/put-result'
import { runCommand } from './inner/run-command'
import { tellTenths } from './inner/tell-tenths'

interface Options {
  data: string
  library: string
  asOf?: Day
  weeks: number
  bays: number
  bayHours: number
  coverDays: number
  coverKm?: number
  out: string
  learning: boolean
  fit?: string
  strict?: boolean
}

const DEFAULTS = { weeks: 8, bays: 3, bayHours: 30, coverDays: 365 }
const MOST_KM = 1_000_000
const HOURS_OF_A_WEEK = 168

/**
 * `npm run decide`: what to do together on one visit, what to set aside, which looks pay, a plan of visits, and parts.
 *
 * @param argv the arguments after the name of the script.
 * @returns the exit code: 0, 1 where `--strict` was given and a row was rejected, 2 where it could not begin.
 */
export function runDecide(argv: readonly string[], io: CommandIo): Promise<number> {
  const command = new Command('decide')
    .description('Visits, what to set aside, looks worth making, a plan of the coming weeks, and parts.')
    .requiredOption('--data <dir>', 'folder of records')
    .requiredOption('--library <file>', 'library file')
    .option('--as-of <date>', 'as of this day (default: today in the time zone of the settings)', day)
    .option('--weeks <n>', 'weeks of the plan, and of the parts', upTo(104), DEFAULTS.weeks)
    .option('--bays <n>', 'bays of the workshop', upTo(50), DEFAULTS.bays)
    .option('--bay-hours <n>', 'hours of one bay in a week', upTo(HOURS_OF_A_WEEK), DEFAULTS.bayHours)
    .option('--cover-days <n>', 'days for which money is set aside', upTo(LONGEST_DAYS), DEFAULTS.coverDays)
    .option('--cover-km <n>', 'km at which that ends earlier', upTo(MOST_KM))
    .option('--out <file>', 'where the decisions go, as JSON; - for standard output', '-')
    .option('--no-learning', 'by the library alone')
    .option('--fit <file>', 'by an earlier fit in the place of one made now')
    .option('--strict', 'exit with 1 where a row was rejected')
  return runCommand<Options>(command, argv, io, (options) => decide(options, io))
}

async function decide(options: Options, io: CommandIo): Promise<number> {
  const { weeks, coverDays, coverKm = null, out, strict } = options
  refuseWrongNumbers(options)
  const { records, library, rejected, today } = await openFleet(options.data, options.library, io)
  const asOf = options.asOf ?? today
  const { settings } = records
  const fleet = fleetVehicles(records, asOf)
  const fit = await fitOf(options, { fleet, library, asOf }, io)
  const cover = { days: coverDays, km: coverKm }
  const onProgress = tellTenths('decided', io)
  const gathering = new FleetMoneyGathering(looksPerYear(fleet, asOf))
  const onGround = (ground: AdviceGround, { records: { vehicle } }: FleetVehicle) =>
    gathering.add(ground, { family: vehicle.family, site: vehicle.site })
  const decisions = decideFleet({ fleet, library, settings, asOf, fit, weeks, cover, onGround, onProgress })
  const plan = await planOf(decisions, options, pricesOf(library, settings))
  io.say(`planned ${plan.visits.length} visits that gain ${Math.round(plan.gain)}`)
  const chosen = new Set(plan.visits.flatMap(({ jobs }) => jobs))
  const planned = decisions.flatMap(({ jobs }) => jobs.filter(({ id }) => chosen.has(id)))
  const money = await gathering.told()
  const result = decisionsObject({ decisions, plan, parts: partsFor(decisions, planned), money })
  await putResult(out, [`${JSON.stringify(result, null, 2)}\n`], io)
  return strict && rejected.length > 0 ? 1 : 0
}

async function planOf(
  decisions: readonly VehicleDecision[],
  { weeks, bays, bayHours }: Options,
  { visit, labourRate }: Prices,
): Promise<Plan> {
  const hours = Array.from({ length: bays }, () => new Array<number>(weeks).fill(bayHours))
  const jobs = decisions.flatMap((each) => each.jobs)
  const request = checkPlanRequest({ weeks, hours, visit, labourRate, jobs })
  if (!request.ok) throw new BadArgument(`no plan can be made: ${request.errors[0]?.message}`)
  return planVisits(request.value, { solver: await loadHighs() })
}

function refuseWrongNumbers({ weeks, bays, fit, learning }: Options): void {
  if (!Number.isInteger(weeks)) throw new BadArgument(`--weeks ${weeks}: must be whole weeks`)
  if (!Number.isInteger(bays)) throw new BadArgument(`--bays ${bays}: must be whole bays`)
  refuseFitWithoutLearning({ fit, learning })
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  process.exitCode = await runDecide(process.argv.slice(2), processIo())
}
