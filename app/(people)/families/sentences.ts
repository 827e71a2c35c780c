import type { Clock, Confidence, Family, WeakPoint } from '@/lib/records/library'
import type { NewPartLife, StatedChance } from '@/lib/scoring/stated-life'
import { chanceInBand, frequency } from '../../ui/chance-words'
import type { Formats } from '../../ui/formats'
import { CONFIDENCE, DUTIES } from '../../ui/library-words'
import { clockAmount } from './amounts'
import { chanceAt, type LinePoint, onLine } from './life-lines'

/** What an author states of a part's life; ages in the clock's unit. */
export type LifeStatement = {
  clock: Clock
  onset: { p10: number; p50: number }
  warning: number
}

/** The statement said back: "Of 10 such parts, 1 has begun to go by 90,000 km and 5 by 180,000 km." */
export function lifeSentence({ clock, onset, warning }: LifeStatement, formats: Formats): string {
  const amount = (value: number) => clockAmount(value, clock, formats)
  const begin = `Of 10 such parts, 1 has begun to go by ${amount(onset.p10)} and 5 by ${amount(onset.p50)}.`
  const end =
    warning > 0
      ? `From the first sign to the breakdown, half of them run for ${amount(warning)} or more.`
      : 'It breaks down without warning.'
  return `${begin} ${end}`
}

/** What the curve finds: the chance at the age at which half have begun to go, and why its band is so wide. */
export function curveSentence(
  atHalf: StatedChance,
  { clock, confidence }: { clock: Clock; confidence: Confidence },
  formats: Formats,
): string {
  const chance = chanceInBand(atHalf, formats.count)
  return (
    `As stated: by ${clockAmount(atHalf.age, clock, formats)}, ${chance} of the new ones have failed if nothing is done. ` +
    `Dashes: has begun to go. The band is as wide as ${CONFIDENCE[confidence].word} leaves it.`
  )
}

/** What the learned curve finds beside the stated one, and whether the count bears it out. */
export function learnedCurveSentence(
  { stated, learned, counted }: { stated: NewPartLife; learned: NewPartLife; counted: readonly LinePoint[] },
  clock: Clock,
  formats: Formats,
): string {
  const { age } = learned.atHalf
  const found =
    `Learned: by ${clockAmount(age, clock, formats)}, ${chanceInBand(learned.atHalf, formats.count)} of the new ones ` +
    `have failed if nothing is done; stated is ${frequency(stated.atHalf.pFail, formats.count)}.`
  const until = Math.min(age, counted.at(-1)?.at ?? 0)
  const [seen, chance] = [onLine(counted, until), chanceAt(learned, until)]
  if (seen === null || chance === null) return found
  const when = until === age ? 'by then' : `by ${clockAmount(Number(until.toPrecision(3)), clock, formats)}`
  return `${found} Counted on your records, ${countedWords(seen, formats)} had failed or been found going ${when}: ${borneOut(seen, chance)}.`
}

/** The 90th percentile of a standard normal: a band of 80 %, as everywhere. */
const TENTH = 1.2816

const bandOf = ({ value, error }: LinePoint) => ({
  pFail: value,
  pLow: Math.max(0, value - TENTH * error),
  pHigh: Math.min(1, value + TENTH * error),
})

const countedWords = (seen: LinePoint, formats: Formats) => chanceInBand(bandOf(seen), formats.count)

/** Whether the count's band meets the room between the two learned lines, in which it belongs. */
function borneOut(seen: LinePoint, { pFail, pStarted }: Pick<StatedChance, 'pFail' | 'pStarted'>): string {
  const { pLow, pHigh } = bandOf(seen)
  if (pHigh < pFail) return 'fewer than are learned to have failed'
  if (pLow > pStarted) return 'more than are learned to have begun to go'
  return 'that fits what was learned'
}

/** What a part version or a version of the engine does to life. */
export function lifeFactorWords(factor: number, formats: Formats): string {
  if (factor === 1) return 'lasts as long'
  return `lasts ${formats.decimal(factor)} times as long`
}

/** How driving changes its ageing; nothing where it makes no difference. */
export function dutySentence(duty: WeakPoint['duty'], formats: Formats): string {
  const parts = (['short', 'mixed', 'long'] as const).flatMap((kind) =>
    duty[kind] === 1 ? [] : [`${formats.decimal(duty[kind])} times as fast on ${DUTIES[kind]}`],
  )
  return parts.length === 0 ? '' : `Ages ${parts.join(', ')}.`
}

/** How many of it there are, and where they lie. */
export function placesSentence(
  { positions, zone }: WeakPoint,
  { cylinders }: Family,
  formats: Formats,
): string {
  const each = positions === cylinders ? 'one a cylinder' : `${formats.count(positions)} of them`
  return [positions > 1 && each, zone].filter(Boolean).join(', ')
}

/** What ages faster while this one goes. */
export function damageSentence(
  component: string,
  weakPoint: string,
  { upstream, weakPoints }: Family,
  formats: Formats,
): string {
  const below = upstream.flatMap(({ from, to, strength }) => {
    const damaged = weakPoints.find(({ key }) => key === to)
    return from === weakPoint && damaged
      ? [`${damaged.component} (ages ${formats.decimal(strength)} times as fast)`]
      : []
  })
  return below.length === 0 ? '' : `While the ${lowerFirst(component)} goes: ${below.join(', ')}.`
}

const lowerFirst = (text: string) => text.charAt(0).toLowerCase() + text.slice(1)
