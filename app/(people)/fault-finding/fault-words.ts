import type { FaultAnswered, FaultMove, FaultPart, FaultSearched, FaultSign } from '@/lib/jobs/find-fault'
import { LAMP_ON } from '@/lib/records/rows'
import { WINDOW_KM } from '@/lib/scoring/looks'
import { aboutFrequency } from '../../ui/chance-words'
import type { Formats } from '../../ui/formats'
import { SIGN_KINDS } from '../../ui/library-words'
import { placeWords } from '../../ui/words'

type Told = Pick<Formats, 'money' | 'roughMoney' | 'count' | 'distance'>

/** A part with its place: "Fuel injector, cylinder 3". */
export const partWords = ({ name, place, position }: FaultPart): string =>
  [name, placeWords(place, position)].filter(Boolean).join(', ')

/** A sign with its place; the lamp that nobody has read is no sign of the library. */
export const signWords = ({ sign, label, place, position }: FaultSign): string =>
  sign === LAMP_ON ? 'engine lamp on' : [label, placeWords(place, position)].filter(Boolean).join(', ')

/** What to do, as an order. */
export function moveWords({ do: move }: FaultMove): string {
  if (move.kind === 'renew') return `replace the ${lowerFirst(partWords(move.part))}, on trial`
  const { by, sign } = move
  return `${by === 'code' ? 'read the codes for' : 'look for'} “${signWords(sign)}”`
}

/** What a step costs by itself; what is found at one go with another look costs nothing more. */
export const costWords = (cost: number, { money }: Told): string =>
  cost > 0 ? `about ${money(cost)}` : 'nothing more'

/** The first line of the page: "Next: look for “soot at the joint”, about €24." */
export const nextWords = (move: FaultMove, formats: Told): string =>
  `Next: ${moveWords(move)}, ${costWords(move.cost, formats)}.`

/** What may come out of a step, when all before it brought nothing. */
export function chanceWords({ do: move, chance }: FaultMove, { count }: Told): string {
  const often = aboutFrequency(chance, count)
  return move.kind === 'renew' ? `it was this: ${often}` : `it is seen: ${often}`
}

/** How a look is made: by whom it is noticed, and what the library says of it. */
export function howWords({ do: move }: FaultMove): string {
  if (move.kind === 'renew') return ''
  return [`It is ${SIGN_KINDS[move.by]}.`, move.how && ended(move.how)].filter(Boolean).join(' ')
}

/** What the order costs on the mean, and what the obvious one would. */
export function againstWords({ expectedCost, obvious, saving }: FaultSearched, formats: Told): string {
  const own = `In this order, finding the fault and mending it costs about ${formats.roughMoney(expectedCost)} on the average.`
  const parts = obvious.moves.flatMap(({ do: move }) => (move.kind === 'renew' ? partWords(move.part) : []))
  const named = parts.length > 3 ? `${parts.slice(0, 3).join('; then ')}; and so on` : parts.join('; then ')
  const other = formats.roughMoney(obvious.expectedCost)
  if (parts.length === 1 && !(saving >= 1)) return `${own} Only one part is left that it can be: ${named}.`
  return other === formats.roughMoney(expectedCost)
    ? `${own} To replace the likeliest part first, then the next (${named}), costs the same.`
    : `${own} To replace the likeliest part first, then the next (${named}), would cost about ${other}: ` +
        `this order saves about ${formats.roughMoney(saving)}.`
}

/** Where to stop and ask, told in words; nothing where there is no such point. */
export function stopWords({ stop, moves }: FaultSearched, limit: number | null, formats: Told): string {
  if (!stop) {
    if (limit === null) return ''
    return `All of these steps together stay within ${formats.money(limit)}.`
  }
  const reached = stop.after === 0 ? 'Stop here' : `Stop after step ${formats.count(stop.after)}`
  if (stop.why === 'likeliest-job') return `${reached}, and ask: going on costs more than the likeliest job.`
  const next = moves[stop.after]
  const step = next ? `the next step (${moveWords(next)}, ${costWords(next.cost, formats)})` : 'the next step'
  return `${reached}, and ask: ${step} would bring what is spent above ${formats.money(limit ?? 0)}.`
}

/** When a trial replacement counts as having helped. */
export const helpedWords = ({ distance }: Told): string =>
  'Enter a part that was replaced on trial as a repair, whatever comes of it. It counts as having helped only when the ' +
  `vehicle was then driven ${distance(WINDOW_KM)} without the sign, by a reading of the odometer: standing proves ` +
  'nothing. If the sign comes back before, enter that it was seen: the search goes on from there.'

/** How it stands with a sign of which a part was replaced since. */
export function trialWords(
  { sign, seenOn, parts, drivenKm, helped }: FaultAnswered,
  { day, distance }: Told & Pick<Formats, 'day'>,
): string {
  const replaced = parts.map((part) => `${lowerFirst(partWords(part))}, on ${day(part.on)}`).join('; ')
  const driven =
    drivenKm > 0
      ? `Driven ${distance(drivenKm)} since without it`
      : 'No reading since, so nothing driven is known'
  const verdict = helped ? 'it has helped.' : `it counts as having helped from ${distance(WINDOW_KM)} on.`
  return `“${signWords(sign)}”, last seen on ${day(seenOn)}. Replaced since: ${replaced}. ${driven}: ${verdict}`
}

const lowerFirst = (text: string) => text.charAt(0).toLowerCase() + text.slice(1)
const ended = (text: string) => (/[.!?]$/.test(text) ? text : `${text}.`)
