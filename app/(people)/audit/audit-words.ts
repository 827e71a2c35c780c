import { type Actor, readActor } from '@/lib/store/actor'
import type { AuditAct, AuditLine } from '@/lib/store/read/audit-lines'
import { parseDay } from '@/lib/units/dates'
import type { Formats } from '../../ui/formats'
import { RECORD_FIELDS } from '../../ui/record-words'

/** What the audit trail says, in the words of people: who did what to which thing, and what was otherwise before. */

/** What a row of each table is called, and rows of it; and the columns that tell one from others. */
type Thing = { one: string; many: string; by?: readonly string[] }

export const THINGS: Record<string, Thing> = {
  vehicles: { one: 'the vehicle', many: 'vehicles', by: ['unit'] },
  readings: { one: 'a reading', many: 'readings', by: ['odometer_km', 'read_on'] },
  codes: { one: 'a trouble code', many: 'trouble codes', by: ['code', 'seen_on'] },
  checks: { one: 'a look', many: 'looks', by: ['kind', 'checked_on'] },
  repairs: { one: 'a repair', many: 'repairs', by: ['weak_point', 'action', 'done_on'] },
  changes: { one: 'a change of the vehicle', many: 'changes of vehicles', by: ['kind', 'changed_on'] },
  libraries: { one: 'a version of the library', many: 'versions of the library', by: ['version'] },
  library_drafts: { one: 'a draft of an engine family', many: 'drafts of engine families' },
  family_takings: {
    one: 'the taking in of an engine',
    many: 'takings in of engines',
    by: ['source', 'chosen'],
  },
  fits: { one: 'what was learned', many: 'learnings', by: ['as_of'] },
  intakes: { one: 'files brought in', many: 'bringings in', by: ['state'] },
  intake_files: { one: 'a file', many: 'files', by: ['name'] },
  workbooks: { one: 'a workbook', many: 'workbooks', by: ['name'] },
  stop_notices: { one: 'a stop', many: 'stops', by: ['weak_point', 'reason'] },
  proposals: { one: 'a proposal', many: 'proposals', by: ['weak_point'] },
  proposal_acts: { one: 'an answer to a proposal', many: 'answers to proposals', by: ['act', 'whom'] },
  part_lines: { one: 'what is known of a part', many: 'lines on parts', by: ['part', 'on_hand', 'on_order'] },
  letters: { one: 'a letter', many: 'letters', by: ['customer', 'written_on'] },
  letter_opt_outs: { one: 'that somebody wants no letters', many: 'wishes for no letters', by: ['customer'] },
  photographs: { one: 'a photograph', many: 'photographs', by: ['note'] },
  cover_terms: { one: 'the terms of a cover', many: 'terms of covers', by: ['days', 'km'] },
  vehicle_labels: { one: 'a label', many: 'labels' },
  driver_reports: { one: 'a driver’s report', many: 'drivers’ reports', by: ['kind', 'words'] },
  driver_report_acts: {
    one: 'an answer to a driver’s report',
    many: 'answers to drivers’ reports',
    by: ['act', 'reason'],
  },
  plan_terms: { one: 'the bays of the plan', many: 'versions of bays', by: ['weeks'] },
  plans: { one: 'a plan', many: 'plans', by: ['first_day', 'weeks'] },
  plan_visits: { one: 'a visit on the plan', many: 'visits on the plan', by: ['week_on'] },
  plan_work: { one: 'other work on the plan', many: 'other work on the plan', by: ['what', 'week_on'] },
  plan_closed: {
    one: 'days without a vehicle',
    many: 'days without vehicles',
    by: ['why', 'from_on', 'until_on'],
  },
  plan_acts: { one: 'an act on the plan', many: 'acts on the plan', by: ['act'] },
  erasures: { one: 'everything known of a customer', many: 'customers', by: ['mark'] },
  organisations: { one: 'the terms', many: 'the terms' },
  memberships: { one: 'a membership', many: 'memberships', by: ['role'] },
  invitations: { one: 'an invitation', many: 'invitations', by: ['mail', 'role'] },
  tokens: { one: 'a token', many: 'tokens', by: ['name', 'role'] },
  webhooks: { one: 'the address that is told of stops', many: 'addresses', by: ['address'] },
  digest_wishes: { one: 'a wish for the week by mail', many: 'wishes for the week by mail', by: ['wanted'] },
  saved_views: { one: 'a view', many: 'views', by: ['name'] },
}

const VERBS: Record<AuditAct, string> = {
  added: 'added',
  changed: 'changed',
  corrected: 'corrected',
  removed: 'removed',
}

/** Columns whose filling or emptying is an act by itself. */
const MOMENTS: Record<string, readonly [filled: string, emptied: string]> = {
  withdrawn_at: ['took back', 'brought back'],
  undone_at: ['undid', 'did again'],
  revoked_at: ['revoked', 'brought back'],
  removed_at: ['removed', 'brought back'],
  ended_at: ['ended', 'brought back'],
  accepted_at: ['accepted', 'made open again'],
  told_at: ['noted who was told of', 'took back who was told of'],
  parked_at: ['noted as parked', 'took back as parked'],
  released_at: ['released', 'took back the release of'],
  in_force_at: ['put in force', 'took out of force'],
  left_at: ['left aside', 'took up'],
  taken_at: ['ended', 'took up again'],
}

const OWN_FIELDS: Record<string, string> = {
  unit: 'number',
  customer: 'customer',
  contact: 'contact',
  vin: 'chassis number',
  family: 'engine',
  variant: 'engine version',
  withdrawn_at: 'taken back',
  is_on: 'told',
}

/** A column as people call it. */
export function fieldWords(column: string): string {
  const own = OWN_FIELDS[column] ?? RECORD_FIELDS[column]
  if (own === undefined) return column.replaceAll('_', ' ')
  return own.charAt(0).toLowerCase() + own.slice(1)
}

const WORKS: Record<string, string> = {
  intake: 'bringing in records',
  score: 'scoring',
  learn: 'learning',
  replay: 'looking back',
  plan: 'planning',
  mail: 'mail',
  tell: 'telling of stops',
}

/** Who it was. @param names of people and tokens by their ids */
export function actorWords(actor: string, names: ReadonlyMap<string, string>): string {
  const { kind, named } = readActor(actor)
  const words: Record<Actor['kind'] | 'database', () => string> = {
    person: () => names.get(named) ?? 'Somebody who is gone',
    token: () => `${names.get(named) ?? 'a token that is gone'}, a program`,
    label: () => 'A driver, by a label',
    job: () => `Gudgeon by itself (${WORKS[named] ?? named})`,
    command: () => `Gudgeon’s command “${named}”`,
    server: () => 'Gudgeon',
    database: () => `The role ${named}, in the database itself`,
  }
  return words[kind]()
}

/** The ids by which people and tokens stand in lines. */
export const namedIn = (actors: Iterable<string>): string[] =>
  [...actors].flatMap((actor) => {
    const { kind, named } = readActor(actor)
    return kind === 'person' || kind === 'token' ? [named] : []
  })

/** One thing that a line tells of a row: what it said before, and after; undefined where there was no row. */
export type Difference = { field: string; before: unknown; after: unknown }

/** What a line tells, column by column; of settings what differs in them. */
export function differencesOf({ before, after }: Pick<AuditLine, 'before' | 'after'>): Difference[] {
  const columns = [...new Set([...Object.keys(before ?? {}), ...Object.keys(after ?? {})])]
  return columns.flatMap((column) => {
    const [was, is] = [before?.[column], after?.[column]]
    if (!isObject(was) || !isObject(is)) return [{ field: column, before: was, after: is }]
    const within = [...new Set([...Object.keys(was), ...Object.keys(is)])]
    return within
      .filter((key) => JSON.stringify(was[key]) !== JSON.stringify(is[key]))
      .map((key) => ({ field: key, before: was[key], after: is[key] }))
  })
}

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

const DAY = /^\d{4}-\d\d-\d\d$/
const INSTANT = /^\d{4}-\d\d-\d\dT\d\d:\d\d/

/** A value as it stood in a row. */
export function valueWords(value: unknown, formats: Formats): string {
  if (value === null || value === undefined || value === '') return 'nothing'
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  if (typeof value === 'number') return formats.exact.number(value)
  if (typeof value === 'string') {
    const day = DAY.test(value) ? parseDay(value) : null
    if (day !== null) return formats.day(day)
    return INSTANT.test(value) ? formats.moment(new Date(value)) : value
  }
  if (Array.isArray(value)) return value.map((each) => valueWords(each, formats)).join(', ') || 'nothing'
  return JSON.stringify(value)
}

const LONGEST_IN_A_SENTENCE = 60
const short = (text: string) =>
  text.length <= LONGEST_IN_A_SENTENCE ? text : `${text.slice(0, LONGEST_IN_A_SENTENCE - 1)}…`

/** What was done, in a sentence without its subject: "changed the plate of L-12: AB 12 → ZZ 77". */
export function didWords(line: AuditLine, formats: Formats): string {
  const thing = THINGS[line.what] ?? { one: `a row of ${line.what}`, many: `rows of ${line.what}` }
  if (line.rowCount > 1) return `${VERBS[line.act]} ${formats.count(line.rowCount)} ${thing.many}`
  const which = line.what === 'vehicles' ? (line.unit ?? 'a vehicle') : `${thing.one}${ofUnit(line)}`
  const differences = differencesOf(line)
  const moment = momentOf(line, differences)
  if (line.what === 'erasures') return `erased ${which}${toldBy(thing, differences, formats)}`
  if (moment !== null) return `${moment} ${which}`
  if (line.act === 'added' || line.act === 'removed')
    return `${VERBS[line.act]} ${which}${toldBy(thing, differences, formats)}`
  if (differences.length === 0) return `${VERBS[line.act]} ${which}`
  const [first, ...others] = differences
  if (others.length > 0)
    return `${VERBS[line.act]} ${which}: ${differences.map((each) => `${fieldWords(each.field)} ${fromTo(each, formats)}`).join('; ')}`
  return first
    ? `${VERBS[line.act]} the ${fieldWords(first.field)} of ${which}: ${fromTo(first, formats)}`
    : ''
}

const ofUnit = ({ unit }: AuditLine) => (unit === null ? '' : ` of ${unit}`)

const fromTo = ({ before, after }: Difference, formats: Formats) =>
  `${short(valueWords(before, formats))} → ${short(valueWords(after, formats))}`

function momentOf({ act }: AuditLine, differences: readonly Difference[]): string | null {
  if (act !== 'changed') return null
  const found = differences.find(({ field }) => Object.hasOwn(MOMENTS, field))
  if (!found) return null
  const [filled, emptied] = MOMENTS[found.field] ?? ['', '']
  return found.after === null ? emptied : filled
}

/** What tells a row from others: " (84,210, 30 Jun 2026)". */
function toldBy({ by = [] }: Thing, differences: readonly Difference[], formats: Formats): string {
  const said = by.flatMap((column) => {
    const found = differences.find(({ field }) => field === column)
    const value = found?.after ?? found?.before
    return value === undefined || value === null || value === '' ? [] : [short(valueWords(value, formats))]
  })
  return said.length === 0 ? '' : ` (${said.join(', ')})`
}
