import type { Clock, Family } from '@/lib/records/library'
import type { LifeCounts } from '@/lib/scoring/family-fit'
import type { Banded, LearnedFactor, LearnedReport } from '@/lib/scoring/learned-report'
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

/** How much longer a version of the part or of the engine lasts, and how sure that is. */
export function versionSentence(
  { of, key, factor, longer }: LearnedFactor,
  family: Family,
  formats: Formats,
): string {
  const name = of === 'variant' ? (family.variants.find((variant) => variant.key === key)?.name ?? key) : key
  const whose = of === 'variant' ? `On ${name} it` : `Version ${name}`
  const times = inBand(factor, (value) => `${formats.decimal(value)} times`)
  return `${whose} lasts ${times} as long; the chance that it lasts longer is ${frequency(longer, formats.count)}.`
}

function inBand({ value, low, high }: Banded, words: (value: number) => string): string {
  const [least, most] = [words(low), words(high)]
  return least === most ? words(value) : `${words(value)} (between ${least} and ${most})`
}
