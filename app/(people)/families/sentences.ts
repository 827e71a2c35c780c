import type { Clock, Confidence, Family, WeakPoint } from '@/lib/records/library'
import type { StatedChance } from '@/lib/scoring/stated-life'
import { chanceInBand } from '../../ui/chance-words'
import type { Formats } from '../../ui/formats'
import { CONFIDENCE, DUTIES } from '../../ui/words'
import { clockAmount } from './amounts'

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
