import type { Clock } from '@/lib/records/library'
import type { Difference, Field, FieldChange, Stated } from '@/lib/records/library-differences'

import { parseDay } from '@/lib/units/dates'
import { frequency } from '../../ui/chance-words'
import type { Formats } from '../../ui/formats'
import { CLOCKS, CONFIDENCE, SEVERITIES, SIGN_KINDS } from '../../ui/library-words'
import { clockAmount } from './amounts'

type Kind = Difference['kind']

/** What the things of a library are called, beside their names. */
const KINDS: Record<Kind, string> = {
  library: 'The library',
  family: 'Engine',
  variant: 'Version of the engine',
  weakPoint: 'Weak point',
  revision: 'Version of the part',
  effect: 'Life in a version of the engine',
  sign: 'Sign',
  cause: 'How often a sign is seen',
  link: 'What damages what',
}

/** How a field's value is told. */
type Told =
  | 'text'
  | 'number'
  | 'amount'
  | 'money'
  | 'hours'
  | 'days'
  | 'share'
  | 'yes'
  | 'day'
  | 'times'
  | Record<string, string>

const SURE = Object.fromEntries(Object.entries(CONFIDENCE).map(([key, { word }]) => [key, word]))

const FIELDS: Record<Field, { label: string; told: Told }> = {
  name: { label: 'name', told: 'text' },
  currency: { label: 'currency', told: 'text' },
  labourRate: { label: 'an hour of work', told: 'money' },
  dayOffRoad: { label: 'a day off the road', told: 'money' },
  visit: { label: 'a visit', told: 'money' },
  slotDays: { label: 'from slot to slot', told: 'days' },
  zones: { label: 'walk round the engine', told: 'text' },
  'looks.scan': { label: 'a full scan takes', told: 'hours' },
  'looks.visual': { label: 'looking takes', told: 'hours' },
  'looks.road': { label: 'a road test takes', told: 'hours' },
  'looks.measure': { label: 'measuring takes', told: 'hours' },
  component: { label: 'part', told: 'text' },
  failureMode: { label: 'how it fails', told: 'text' },
  clock: { label: 'what it ages by', told: CLOCKS },
  positions: { label: 'how many there are', told: 'number' },
  'onset.p10': { label: 'one in ten have begun to go by', told: 'amount' },
  'onset.p50': { label: 'half have begun to go by', told: 'amount' },
  warning: { label: 'from first sign to breakdown', told: 'amount' },
  confidence: { label: 'how sure', told: SURE },
  'duty.short': { label: 'ageing on short trips', told: 'times' },
  'duty.mixed': { label: 'ageing on mixed use', told: 'times' },
  'duty.long': { label: 'ageing on long runs', told: 'times' },
  severity: { label: 'once it has failed', told: SEVERITIES },
  harm: { label: 'can harm people', told: 'yes' },
  renewEvery: { label: 'replaced by schedule every', told: 'amount' },
  success: { label: 'repairs that hold', told: 'share' },
  restored: { label: 'age that a part repair takes away', told: 'share' },
  'cost.parts': { label: 'parts', told: 'money' },
  'cost.hours': { label: 'work', told: 'hours' },
  'cost.sharedHours': { label: 'work shared with others', told: 'hours' },
  'cost.failureExtra': { label: 'a breakdown costs more by', told: 'money' },
  'cost.daysOff': { label: 'off the road after a breakdown', told: 'days' },
  access: { label: 'reached together with', told: 'text' },
  part: { label: 'part no.', told: 'text' },
  asASet: { label: 'replaced as a set', told: 'yes' },
  zone: { label: 'where', told: 'text' },
  cautions: { label: 'cautions', told: 'text' },
  grounds: { label: 'grounds', told: 'text' },
  statedBy: { label: 'stated by', told: 'text' },
  statedOn: { label: 'stated on', told: 'day' },
  reviewBy: { label: 'look at it again by', told: 'day' },
  retired: { label: 'kept for old records alone', told: 'yes' },
  label: { label: 'what there is to see', told: 'text' },
  kind: { label: 'how it is found', told: SIGN_KINDS },
  codes: { label: 'codes', told: 'text' },
  how: { label: 'how to look', told: 'text' },
  lamp: { label: 'lights the engine lamp', told: 'yes' },
  leak: { label: 'shows without cause', told: 'share' },
  stop: { label: 'whoever sees it must stop', told: 'yes' },
  hours: { label: 'looking takes', told: 'hours' },
  cylinders: { label: 'cylinders', told: 'number' },
  lifeFactor: { label: 'lasts, against the original', told: 'times' },
  temporary: { label: 'a quick fix', told: 'yes' },
  absent: { label: 'does not have it', told: 'yes' },
  detect: { label: 'seen when it is there', told: 'share' },
  strength: { label: 'ages faster by', told: 'times' },
}

/** "Weak point Plover 2.2: Fuel injector" */
export const thingWords = ({ kind, name }: Difference | Pick<Difference, 'kind' | 'name'>): string =>
  `${KINDS[kind]} ${name}`

/** "half have begun to go by: 180,000 km, was 150,000 km" */
export function fieldWords(change: FieldChange, clock: Clock | null, formats: Formats): string {
  const { label, before, after } = fieldSides(change, { before: clock, after: clock }, formats)
  return `${label}: ${after}, was ${before}`
}

/**
 * What a field holds on two sides, in words; with every figure where less would say the same of both.
 *
 * @param clocks what the ages of each side are counted in
 */
export function fieldSides(
  { field, before, after }: FieldChange,
  clocks: Record<'before' | 'after', Clock | null>,
  formats: Formats,
): Record<'label' | 'before' | 'after', string> {
  const { label, told } = FIELDS[field]
  const [was, now] = [
    valueWords(before, told, clocks.before, formats),
    valueWords(after, told, clocks.after, formats),
  ]
  if (now !== was || typeof after !== 'number' || typeof before !== 'number' || before === after)
    return { label, before: was, after: now }
  return {
    label,
    before: exactWords(before, told, clocks.before, formats),
    after: exactWords(after, told, clocks.after, formats),
  }
}

const NOTHING = 'not stated'

function valueWords(value: Stated, told: Told, clock: Clock | null, formats: Formats): string {
  if (value === null || value === '') return NOTHING
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  if (typeof value === 'number') return numberWords(value, told, clock, formats)
  if (typeof value === 'string' && told === 'day') return dayWords(value, formats)
  if (typeof value !== 'string') return value.length === 0 ? 'none' : value.join('; ')
  return typeof told === 'object' ? (told[value] ?? value) : `“${value}”`
}

/** A calendar date of a library file as people write it. */
export function dayWords(written: string, formats: Formats): string {
  const day = parseDay(written)
  return day === null ? written : formats.day(day)
}

function numberWords(value: number, told: Told, clock: Clock | null, formats: Formats): string {
  if (told === 'amount' && clock !== null) return clockAmount(value, clock, formats)
  if (told === 'money') return formats.money(value)
  if (told === 'hours') return `${formats.decimal(value)} ${value === 1 ? 'hour' : 'hours'}`
  if (told === 'days') return `${formats.decimal(value)} ${value === 1 ? 'day' : 'days'}`
  if (told === 'share') return frequency(value, formats.count)
  if (told === 'times') return `${formats.decimal(value)} times`
  return formats.count(value)
}

function exactWords(value: number, told: Told, clock: Clock | null, { exact }: Formats): string {
  if (told === 'share') return exact.share(value)
  if (told === 'money') return exact.money(value)
  if (told === 'amount' && clock === 'distance') return exact.distance(value)
  const figures = exact.number(value)
  if (told === 'times') return `${figures} times`
  if (told === 'hours' || (told === 'amount' && clock === 'hours')) return `${figures} hours`
  if (told === 'days' || (told === 'amount' && clock === 'time')) return `${figures} days`
  return figures
}
