import type { Clock, Confidence, WeakPoint } from '@/lib/records/library'
import { LONGEST_NAME, LONGEST_TEXT } from '@/lib/records/text-limits'
import { readTypedCodes } from '@/lib/records/typed-codes'
import { readTypedDistance } from '@/lib/records/typed-distance'
import { readTypedNumber } from '@/lib/records/typed-number'
import { parseDay } from '@/lib/units/dates'
import type {
  EngineDraft,
  LinkDraft,
  RevisionDraft,
  SignDraft,
  VariantDraft,
  VariantEffect,
  WeakPointDraft,
} from './family-draft'
import type { TypedError } from './typed-error'

/** What was typed into a form, by field. */
export type Typed = Readonly<Record<string, string>>

export type FromForm<T> = { ok: true; value: T } | { ok: false; errors: TypedError[] }

/** An example of an amount of each clock, for whoever does not know what to type. */
export const LIKE: Record<Clock, string> = { distance: '90 000', hours: '2 500', time: '5 years or 8 months' }

const DAYS_IN: Record<string, number> = { y: 365.25, m: 365.25 / 12, w: 7, d: 1 }
const TIME = /^(.*?)\s*(y|m|w|d)?(?:ears?|r|rs|onths?|eeks?|ays?)?\.?$/i
const THOUSANDS = /^(.*\d)\s*k$/i

/** A number as people type it, `90k` among them; null where it is none. */
function numberFrom(text: string): number | null {
  const [, thousands] = THOUSANDS.exec(text) ?? []
  if (thousands === undefined) return readTypedNumber(text)
  const value = readTypedNumber(thousands)
  return value === null ? null : value * 1000
}

/**
 * An amount of what a part ages by, in its clock's unit: km, hours or days. A bare number of time is years.
 *
 * @param distance what a bare number of distance is in
 */
export function amountFrom(text: string, clock: Clock, distance: 'km' | 'mi'): number | null {
  if (clock === 'hours') return numberFrom(text.replace(/\s*h(ours?|rs?)?\.?$/i, ''))
  if (clock === 'distance') {
    const [, thousands, unit = ''] = /^(.*\d)\s*k(?:\s+(\w+))?$/i.exec(text) ?? []
    const number = thousands === undefined ? null : readTypedNumber(thousands)
    const written = number === null ? text : `${number * 1000} ${unit}`
    const typed = readTypedDistance(written, distance)
    return typed && Math.round(typed.km)
  }
  const [, number = '', unit = 'y'] = TIME.exec(text) ?? []
  const value = numberFrom(number)
  return value === null ? null : Math.round(value * DAYS_IN[unit.toLowerCase()]!)
}

/** What a form states of a part's life, as far as it can be read yet; null where it cannot. */
export function lifeFrom(
  typed: Typed,
  distance: 'km' | 'mi',
): Pick<WeakPoint, 'clock' | 'onset' | 'warning'> | null {
  const clock = clockOf(typed)
  const [p10, p50, warning] = ['p10', 'p50', 'warning'].map((name) =>
    amountFrom(textOf(typed, name) || (name === 'warning' ? '0' : ''), clock, distance),
  )
  if (!p10 || !p50 || warning === null || warning === undefined || p50 <= p10) return null
  return { clock, onset: { p10, p50 }, warning }
}

/** A weak point as the form states it. */
export function weakPointFrom(typed: Typed, distance: 'km' | 'mi'): FromForm<Omit<WeakPointDraft, 'key'>> {
  const desk = new Desk(typed)
  const clock = clockOf(typed)
  const amount = (name: string, label: string, least = 0) =>
    desk.read(name, `Type ${label}, like ${LIKE[clock]}.`, (text) => {
      const found = amountFrom(text, clock, distance)
      return found !== null && found >= least ? found : null
    })
  const number = (name: string) =>
    textOf(typed, name) === '' ? 0 : desk.read(name, 'Type a number, like 180 or 1.5.', numberFrom)

  const dayOf = (name: string) => {
    const text = textOf(typed, name)
    if (text !== '' && parseDay(text) === null) desk.errors.push({ field: name, message: DAY_WANTED })
    return text || null
  }

  const component = desk.text('component', 'Say which part it is.')
  const p10 = amount('p10', 'by when one in ten have started to go', 1)
  const p50 = amount('p50', 'by when half have started to go', 1)
  const warning = amount('warning', 'how long it runs from the first sign to the breakdown (0: no warning)')
  const renewEvery =
    textOf(typed, 'renewEvery') === '' ? null : amount('renewEvery', 'how often it is replaced', 1)
  if (p10 > 0 && p50 > 0 && p50 <= p10)
    desk.errors.push({
      field: 'p50',
      message: 'Half have gone later than the first in ten: type more than there.',
    })
  return desk.answer({
    component,
    failureMode: textOf(typed, 'failureMode'),
    clock,
    positions: Number(typed.positions ?? 1) || 1,
    onset: { p10, p50 },
    warning,
    renewEvery,
    duty: { short: ageingOn(typed, 'short'), mixed: 1, long: ageingOn(typed, 'long') },
    confidence: desk.choice<Confidence>('confidence', 'Say how sure you are.', CONFIDENCES),
    severity: SEVERITIES.find((each) => each === typed.severity) ?? 'plan',
    harm: typed.harm === 'yes',
    cost: {
      parts: number('parts'),
      hours: number('hours'),
      failureExtra: number('failureExtra'),
      daysOff: number('daysOff'),
    },
    cautions: linesOf(typed, 'cautions'),
    grounds: textOf(typed, 'grounds') || null,
    ...(textOf(typed, 'statedBy') !== '' && { statedBy: textOf(typed, 'statedBy') }),
    ...(textOf(typed, 'statedOn') !== '' && { statedOn: dayOf('statedOn') }),
    ...('reviewBy' in typed && { reviewBy: dayOf('reviewBy') }),
    zone: textOf(typed, 'zone') || null,
    part: textOf(typed, 'part') || null,
    retired: typed.retired === 'yes',
  })
}

const DAY_WANTED = 'Type a day like 2026-05-31.'

/** How fast a part ages on a kind of use, against mixed use. */
const ageingOn = (typed: Typed, duty: 'short' | 'long'): number => {
  const factor = Number(typed[`duty:${duty}`])
  return factor > 0 && factor <= 10 ? factor : 1
}

/** The field in which a sign's form asks how often a weak point shows it. */
export const shownBy = (weakPoint: string) => `shows:${weakPoint}`

/** A sign as the form states it. @param weakPoints the keys of those that may show it */
export function signFrom(typed: Typed, weakPoints: readonly string[]): FromForm<Omit<SignDraft, 'key'>> {
  const desk = new Desk(typed)
  const label = desk.text('label', 'Say what there is to see, hear or read.')
  const kind = desk.choice('kind', 'Say how it is found.', KINDS)
  const codes = codesFrom(textOf(typed, 'codes'))
  if (kind === 'code' && codes.length === 0)
    desk.errors.push({
      field: 'codes',
      message: 'Type the trouble codes, like P0302, or P030# for one a cylinder.',
    })
  const causes = weakPoints.flatMap((weakPoint) => {
    const detect = Number(typed[shownBy(weakPoint)] ?? 0)
    return detect > 0 && detect <= 1 ? [{ weakPoint, detect }] : []
  })
  if (causes.length === 0)
    desk.errors.push({ field: null, message: 'Say of at least one weak point how often it shows this sign.' })
  const leak = Number(typed.leak ?? '')
  return desk.answer({
    label,
    kind,
    codes: kind === 'code' ? codes : [],
    how: textOf(typed, 'how') || null,
    zone: textOf(typed, 'zone') || null,
    retired: typed.retired === 'yes',
    lamp: typed.lamp === 'yes',
    stop: typed.stop === 'yes',
    leak: leak >= 0 && leak <= 1 && typed.leak !== undefined ? leak : 0.005,
    causes,
  })
}

/** A version of a part as the form states it. */
export function revisionFrom(typed: Typed): FromForm<Omit<RevisionDraft, 'key'>> {
  const desk = new Desk(typed)
  return desk.answer({
    name: desk.text('name', 'Say what the version is called, or its part number.'),
    lifeFactor: desk.read('lasts', FACTOR_WANTED, positiveFrom),
    confidence: desk.choice<Confidence>('confidence', 'Say how sure you are.', CONFIDENCES),
    temporary: typed.temporary === 'yes',
    retired: typed.retired === 'yes',
  })
}

const FACTOR_WANTED = 'Type how many times as long as the original it lasts, like 1.5 or 0.8.'

const positiveFrom = (text: string) => {
  const value = numberFrom(text)
  return value !== null && value > 0 ? value : null
}

/** The field in which an engine version's form asks how long a weak point lasts in it. */
export const lastsIn = (weakPoint: string) => `lasts:${weakPoint}`

/** That a version of the engine does not have a weak point. */
export const ABSENT = 'absent'

/** A version of the engine as the form states it. @param weakPoints the keys of those that may last otherwise in it */
export function variantFrom(
  typed: Typed,
  weakPoints: readonly string[],
): FromForm<Omit<VariantDraft, 'key'> & { effects: VariantEffect[]; confidence: Confidence }> {
  const desk = new Desk(typed)
  const effects = weakPoints.flatMap((weakPoint): VariantEffect[] => {
    const lasts = typed[lastsIn(weakPoint)] ?? ''
    if (lasts === ABSENT) return [{ weakPoint, lifeFactor: 'absent' }]
    const lifeFactor = Number(lasts)
    return lifeFactor > 0 ? [{ weakPoint, lifeFactor }] : []
  })
  return desk.answer({
    name: desk.text('name', 'Say what the version is called, like: before 2019.'),
    confidence: desk.choice<Confidence>('confidence', 'Say how sure you are.', CONFIDENCES),
    effects,
    retired: typed.retired === 'yes',
  })
}

/** The fields in which an engine's form asks with what a weak point is reached together, and how long that takes. */
export const reachedWith = (weakPoint: string) => `access:${weakPoint}`
export const reachedIn = (weakPoint: string) => `shared:${weakPoint}`

/** What is stated of the engine as a whole. @param weakPoints those that may be reached together */
export function engineFrom(typed: Typed, weakPoints: readonly WeakPointDraft[]): FromForm<EngineDraft> {
  const desk = new Desk(typed)
  const access = weakPoints.map(({ key, cost }) => {
    const [group, field] = [textOf(typed, reachedWith(key)) || null, reachedIn(key)]
    const hours = textOf(typed, field) === '' ? 0 : desk.read(field, HOURS_WANTED, hoursFrom)
    const whole = cost?.hours ?? 0
    if (hours > 0 && group === null)
      desk.errors.push({
        field: reachedWith(key),
        message: 'Say with what it is reached, or leave out the hours.',
      })
    if (hours > whole)
      desk.errors.push({
        field,
        message: `The whole job takes ${whole} hours: type no more, or state that it takes longer.`,
      })
    return { weakPoint: key, group, hours }
  })
  return desk.answer({
    name: desk.text('name', 'Say what the engine is called.'),
    cylinders: desk.read('cylinders', 'Type how many cylinders it has, from 1 to 99.', cylindersFrom),
    access,
  })
}

const HOURS_WANTED = 'Type a number of hours, like 1 or 1.5.'

const hoursFrom = (text: string) => {
  const value = numberFrom(text)
  return value !== null && value >= 0 ? value : null
}

const cylindersFrom = (text: string) => {
  const value = numberFrom(text)
  return value !== null && Number.isInteger(value) && value >= 1 && value <= 99 ? value : null
}

/** What damages what as the form states it. */
export function linkFrom(typed: Typed, weakPoints: readonly string[]): FromForm<LinkDraft> {
  const desk = new Desk(typed)
  const from = desk.choice('from', 'Say which part does the damage.', weakPoints)
  const to = desk.choice('to', 'Say which part is damaged.', weakPoints)
  if (from !== '' && from === to)
    desk.errors.push({ field: 'to', message: 'A part does not damage itself: choose another.' })
  const strength = Number(typed.strength)
  return desk.answer({ from, to, strength: strength >= 1 ? strength : 2 })
}

const CLOCKS: readonly Clock[] = ['distance', 'hours', 'time']
const CONFIDENCES: readonly Confidence[] = ['hunch', 'experience', 'documented']
const SEVERITIES: readonly WeakPoint['severity'][] = ['stop', 'soon', 'plan']
const KINDS: readonly SignDraft['kind'][] = ['code', 'visual', 'road', 'measure']

const textOf = (typed: Typed, name: string) => (typed[name] ?? '').trim()

const linesOf = (typed: Typed, name: string) =>
  textOf(typed, name)
    .split('\n')
    .map((line) => line.trim())
    .filter(Boolean)
const clockOf = ({ clock }: Typed) => CLOCKS.find((each) => each === clock) ?? 'distance'

/** Codes with `#` for the cylinder stand as they are; others are found in whatever is around them. */
function codesFrom(text: string): string[] {
  const words = text.toUpperCase().split(/[\s,;]+/)
  const patterns = words.filter((word) => /^[PCBU][0-9A-F]*#[0-9A-F]*$/.test(word))
  const rest = words.filter((word) => !patterns.includes(word)).join(' ')
  const { codes, unread } = readTypedCodes(rest)
  return [...new Set([...patterns, ...codes, ...unread])]
}

/** Fields that hold a name. */
const NAMES = ['component', 'label', 'name', 'part', 'zone', 'statedBy']

/** Reads fields one after another and collects what is wrong; a value that could not be read is 0 or blank. */
class Desk {
  readonly errors: TypedError[] = []
  constructor(private readonly typed: Typed) {}

  text(field: string, missing: string): string {
    const text = textOf(this.typed, field)
    if (text === '') this.errors.push({ field, message: missing })
    return text
  }

  read(field: string, wrong: string, reader: (text: string) => number | null): number {
    const value = reader(textOf(this.typed, field))
    if (value === null) this.errors.push({ field, message: wrong })
    return value ?? 0
  }

  choice<Word extends string>(field: string, missing: string, words: readonly Word[]): Word {
    const word = words.find((each) => each === this.typed[field])
    if (word === undefined) this.errors.push({ field, message: missing })
    return word ?? ('' as Word)
  }

  answer<T>(value: T): FromForm<T> {
    for (const [field, typed] of Object.entries(this.typed)) {
      const most = NAMES.includes(field) ? LONGEST_NAME : LONGEST_TEXT
      if (typed.trim().length > most)
        this.errors.push({ field, message: `Shorten it to ${most.toLocaleString('en')} characters.` })
    }
    return this.errors.length === 0 ? { ok: true, value } : { ok: false, errors: this.errors }
  }
}
