import type { TypedForm } from '@/lib/intake/typed-form'
import { doubtOf } from '@/lib/records/odometer-doubts'
import type { Odometer } from '@/lib/records/trusted-odometer'
import type { Question } from '../../../ui/form-state'
import type { Formats } from '../../../ui/formats'
import { typedWords } from './entry-words'

type DoubtGround = {
  odometer: Pick<Odometer, 'trusted'>
  formats: Formats
  /** What it usually runs a day, where that is to be asked about as well. */
  usualKmPerDay?: number | null
}

/** What to ask before an odometer is kept that does not follow from the readings around it; null where it does. */
export function doubtAbout(
  { day, odometer }: Pick<Extract<TypedForm, { ok: true }>, 'day' | 'odometer'>,
  ground: DoubtGround,
): Question | null {
  if (odometer === null) return null
  const doubt = doubtOf({ day, km: odometer.km }, ground.odometer, ground.usualKmPerDay)
  if (doubt === null) return null
  const typed = typedWords(odometer, ground.formats)
  const words = `${typed}: ${DOUBTS[doubt.kind](doubt, ground.formats)}`
  // Keeping it means this very figure on this very day: another one is asked about anew.
  return { words, yes: `Keep ${typed}`, sure: `${odometer.km}@${day}` }
}

type Doubt = NonNullable<ReturnType<typeof doubtOf>>

const DOUBTS: Record<Doubt['kind'], (doubt: Doubt, formats: Formats) => string> = {
  lower: ({ day, km }, formats) =>
    `that is lower than the last reading (${formats.distance(km)} on ${formats.day(day)}). Keep it, or correct it below.`,
  'higher-than-later': ({ day, km }, formats) =>
    `that is higher than a later reading (${formats.distance(km)} on ${formats.day(day)}). Keep it, or correct it below.`,
  fast: (doubt, formats) =>
    `that is ${'kmPerDay' in doubt ? formats.distance(doubt.kmPerDay) : ''} a day since ${formats.day(doubt.day)} (${formats.distance(doubt.km)}). Sure? Keep it, or correct it below.`,
}
