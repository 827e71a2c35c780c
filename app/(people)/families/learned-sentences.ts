import type { Clock, Family, WeakPoint } from '@/lib/records/library'
import type { LifeCounts } from '@/lib/scoring/family-fit'
import type { Banded, LearnedFactor, LearnedReport } from '@/lib/scoring/learned-report'
import type { ObservedLife } from '@/lib/scoring/observed-life'
import { frequency } from '../../ui/chance-words'
import type { Formats } from '../../ui/formats'
import { clockAmount } from './amounts'

/** More digits would claim more than a band leaves. */
const SAID_DIGITS = 3

/** "Of 10 such parts, 5 have begun to go by 152,000 km (between 148,000 and 156,000 km)." */
export function learnedSentence({ half, warning }: LearnedReport, clock: Clock, formats: Formats): string {
  const amount = (value: number) => clockAmount(Number(value.toPrecision(SAID_DIGITS)), clock, formats)
  const begin = `Of 10 such parts, 5 have begun to go by ${inBand(half, amount)}.`
  if (warning === null) return begin
  return `${begin} From there to the breakdown, half of them run for ${inBand(warning, amount)} or more.`
}

/** What lives this rests on. */
export function livesSentence(lives: LifeCounts, formats: Formats): string {
  const { failed, developing, sound, running, leftOut } = lives
  const counts = [
    [failed, 'failed'],
    [developing, 'were found going'],
    [sound, 'were found sound'],
    [running, 'run on, or were renewed with nothing written down'],
  ] as const
  const said = counts.flatMap(([count, words]) => (count > 0 ? [`${formats.count(count)} ${words}`] : []))
  const left = leftOut > 0 ? ` ${formats.count(leftOut)} of unknown beginning were left out.` : ''
  return `Of the parts that it rests on, ${said.join(', ')}.${left}`
}

/** What the steps beside the curve are, and how far they can be trusted. */
export function countNote({ steps, ends }: ObservedLife, formats: Formats): string {
  if (steps === null) return 'Too few original parts were followed at any one age to draw how long they last.'
  const what =
    `The steps beside the curve count ${formats.count(steps.lives)} original parts, of which ` +
    `${formats.count(steps.gone)} failed or were found going.`
  if (ends.renewed === 0) return what
  return `${what} The ${formats.count(ends.renewed)} with nothing written down count as good until then.`
}

/** How the steps are to be read; once on a page. The measure: `tests/simulation/observed-life.test.ts`. */
export const STEPS_NOTE =
  'The steps beside a curve count parts until they failed or were found going. Parts are opened because something ' +
  'shows, not by lot, so that this is a rough picture: one is found going after it began to and, if at all, before it ' +
  'fails, which puts the steps between the dashes and the line. Parts replaced with nothing written down count as good ' +
  'until then, and the steps lie too low. Measured on invented fleets: between the two where all that is found is ' +
  'written down, about on the line where half of it is, up to 5 in 100 below the line where none is.'

/** What people call a version of the part or of the engine. */
export function versionName(
  { of, key }: Pick<LearnedFactor, 'of' | 'key'>,
  { variants }: Pick<Family, 'variants'>,
  { revisions }: Pick<WeakPoint, 'revisions'>,
): string {
  const versions = of === 'variant' ? variants : revisions
  return versions.find((version) => version.key === key)?.name ?? key
}

/** "1.4 times (between 1.1 and 1.8)" */
export const factorInBand = (factor: Banded, formats: Formats): string => {
  const [low, high] = [formats.decimal(factor.low), formats.decimal(factor.high)]
  const times = `${formats.decimal(factor.value)} times`
  return low === high ? times : `${times} (between ${low} and ${high})`
}

/** Chances that say that one is better, or worse; between them nobody can tell yet. */
const BETTER = 0.9
const WORSE = 0.1

/** Whether a version is better than the original part, as far as the records tell. */
export function versionSentence(
  { of, longer }: Pick<LearnedFactor, 'of' | 'longer'>,
  name: string,
  formats: Formats,
): string {
  const whose = of === 'variant' ? `On ${name} it` : `Version ${name}`
  const chance = frequency(longer, formats.count)
  if (longer >= BETTER) return `${whose} lasts longer than the original: the chance of that is ${chance}.`
  if (longer <= WORSE) return `${whose} lasts less long than the original: that it lasts longer is ${chance}.`
  return `Whether ${whose.charAt(0).toLowerCase() + whose.slice(1)} lasts longer than the original cannot be told yet: the chance of it is ${chance}.`
}

function inBand({ value, low, high }: Banded, words: (value: number) => string): string {
  const [least, most] = [words(low), words(high)]
  return least === most ? words(value) : `${words(value)} (between ${least} and ${most})`
}
