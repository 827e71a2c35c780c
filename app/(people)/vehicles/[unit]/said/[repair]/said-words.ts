import type { Followed } from '@/lib/decisions/advice-followed'
import type { KnownThen } from '@/lib/decisions/known-of-component'
import type { Told, WhatWeSaid } from '@/lib/jobs/what-we-said'
import type { CameTrue } from '@/lib/replay/came-true'
import { frequency } from '../../../../../ui/chance-words'
import type { Formats } from '../../../../../ui/formats'
import { LOOKS } from '../../../../../ui/record-words'
import { horizonWords } from '../../../../../ui/words'

type Named = { label: string; position: number | null }

const nameOf = ({ label, position }: Named) => (position === null ? label : `${label} at ${position}`)
const times = (count: number) => (count === 2 ? 'twice' : `${count} times`)

/** What was on record of the part by a day, in sentences. */
export function knownWords({ known, cameLater, saidAt }: Told, formats: Formats): string {
  const { since, seen, looks } = known
  const shown = seen.map((sign) => {
    const { days } = sign
    const last = formats.day(days.at(-1)!)
    return `${nameOf(sign)} (${days.length > 1 ? `${times(days.length)}, last ` : ''}${last})`
  })
  const made = looks.map(
    ({ kind, count, last }) =>
      `${LOOKS[kind]} ${formats.day(last)}${count > 1 ? ` (and ${formats.count(count - 1)} before)` : ''}`,
  )
  const late = saidAt === null ? 'written down only later' : 'brought in only later'
  return [
    since !== null && `Renewed ${formats.day(since)}.`,
    shown.length > 0 ? `Seen: ${shown.join(', ')}.` : 'No sign of it was seen.',
    made.length > 0 ? `Looks: ${made.join(', ')}.` : 'Nobody had looked.',
    cameLater > 0 &&
      `${formats.count(cameLater)} more ${cameLater === 1 ? 'record' : 'records'} of that time ${cameLater === 1 ? 'was' : 'were'} ${late}.`,
  ]
    .filter(Boolean)
    .join(' ')
}

/** The signs that would have shown it and that nobody had looked for lately, each with how long ago. */
export function unlookedWords({ unlooked }: KnownThen, hasSigns: boolean, formats: Formats): string {
  if (!hasSigns) return 'No sign of it is known.'
  if (unlooked.length === 0) return 'Nothing: every sign of it was looked for, or seen.'
  const never = unlooked.filter(({ last }) => last === null).map(nameOf)
  const ago = unlooked.flatMap((sign) =>
    sign.last === null ? [] : `${nameOf(sign)} (last ${formats.day(sign.last)})`,
  )
  return [
    never.length > 0 && `Never: ${never.join(', ')}.`,
    ago.length > 0 && `Not for a month or more: ${ago.join(', ')}.`,
  ]
    .filter(Boolean)
    .join(' ')
}

/** What was done, as the end of a sentence. */
const DONE: Record<Exclude<Followed['how'], 'nothing'>, string> = {
  worked: 'worked on',
  opened: 'opened and looked at',
  looked: 'looked at',
  parked: 'parked',
}

/** What of that is what each advice asks; less than that does not follow it. */
const ASKED: Partial<Record<Told['advice'], readonly Followed['how'][]>> = {
  stop: ['parked', 'worked'],
  book: ['worked'],
  check: ['looked', 'opened', 'worked'],
}

/** Whether the advice of the day was followed before it failed. */
export function followedWords(
  { advice, followed }: Pick<Told, 'advice' | 'followed'>,
  formats: Formats,
): string {
  if (followed === null) return 'Nothing was asked.'
  if (followed.how === 'nothing') return 'Not followed, as far as is on record.'
  const done = `${DONE[followed.how]} ${formats.day(followed.on)}`
  return ASKED[advice]?.includes(followed.how) ? `Followed: ${done}.` : `Not followed; ${done}.`
}

/** The band of a chance, where its ends differ in words. */
export function bandWords({ pLow, pHigh }: Pick<Told, 'pLow' | 'pHigh'>, formats: Formats): string {
  const [low, high] = [pLow, pHigh].map((chance) => frequency(chance, formats.count))
  return low === high ? '' : `between ${low} and ${high}`
}

/** How often such chances came true. */
export function cameTrueWords(found: CameTrue | null, formats: Formats): string {
  if (found === null) return 'not known yet'
  const [low, high] = [found.low, found.high].map((share) => formats.share(share))
  return `${frequency(found.came, formats.count)} of ${formats.count(found.count)} (${low} to ${high})`
}

/** How it stands with chances that came true: by which replay, or that nobody knows yet. */
export function replayWords({ replayedTo, horizonDays }: WhatWeSaid, formats: Formats): string {
  return replayedTo === null
    ? `How often such chances come true here is not known yet: no replay over ${horizonWords(horizonDays)} is kept. The track record makes one when asked.`
    : `How often such chances come true here is counted in the replay up to ${formats.day(replayedTo)}: of the parts that were given about the same chance, so many failed within ${horizonWords(horizonDays)}; a part counts on each day that was looked back from. Where fewer than 20 were, it is not known yet.`
}

/** From when scores were kept, in a sentence. */
export function keptWords({ keptFrom, repair, kept, keptBetween }: WhatWeSaid, formats: Formats): string {
  if (keptFrom === null)
    return `Nothing was said of it here before it failed ${formats.day(repair.doneOn)}: no score of that time is kept. Its history was brought in later.`
  const between =
    keptBetween > 0
      ? ` ${formats.count(keptBetween)} smaller ${keptBetween === 1 ? 'change lies' : 'changes lie'} between these ${formats.count(kept.length)}.`
      : ''
  return `As it was said on the day. A score is kept when its advice changes or its chance moves by a tenth; it stood until the next one.${between}`
}
