import type { Standing } from '@/lib/decisions/proposals'
import type { Family } from '@/lib/records/library'
import { placeOf } from '@/lib/records/place-of'
import type { DoneAct } from '@/lib/store/read/proposals'
import type { Formats } from '../../../ui/formats'
import { PROPOSAL_STATES, WAYS_TO_TELL } from '../../../ui/told-words'
import { placeWords } from '../../../ui/words'

/** A job by its name and its places: "Fuel injector, cylinders 2 and 3". */
export function jobName(
  { name, place }: { name: string; place: Parameters<typeof placeWords>[0] },
  positions: readonly number[],
): string {
  const [first, ...others] = positions
  if (place === null || first === undefined) return name
  const where = placeWords(place, first)
  if (others.length === 0) return [name, where].filter(Boolean).join(', ')
  const last = others.at(-1)
  return `${name}, ${place} ${[first, ...others.slice(0, -1)].join(', ')} and ${last}`
}

/** The same by the library; its key where the library does not have it. */
export function jobNameIn(
  family: Family | null | undefined,
  job: { weakPoint: string; positions: readonly number[] },
): string {
  const known = family?.weakPoints.find(({ key }) => key === job.weakPoint)
  if (!family || !known) return job.weakPoint
  const place = placeOf(known.positions, family.cylinders)
  return jobName({ name: known.component, place }, place === null ? [] : job.positions)
}

/** How a proposal stands, with the day that belongs to it. */
export function standingWords(
  { state, askAgainOn, visitOn, doneOn, found }: Standing,
  formats: Formats,
): string {
  const words = PROPOSAL_STATES[state]
  if (state === 'declined')
    return `${words}; ${askAgainOn === null ? 'not to be asked again' : `ask again on ${formats.day(askAgainOn)}`}`
  if (state === 'put-off' && askAgainOn !== null) return `${words} until ${formats.day(askAgainOn)}`
  if (visitOn !== null) return `${words} for ${formats.day(visitOn)}`
  if (state === 'done' && doneOn !== null)
    return `${words} on ${formats.day(doneOn)}; what was found is to be written up`
  if (state === 'found' && doneOn !== null)
    return `done on ${formats.day(doneOn)}: ${FOUND[found ?? 'sound']}`
  return words
}

const FOUND = { failed: 'it had failed', developing: 'it was going', sound: 'it was good' }

/** One thing that was done with it, as a line of its history. */
export function actWords(act: DoneAct, formats: Formats): string {
  const by = act.byName === null ? '' : ` (${act.byName})`
  return `${formats.moment(act.at)}: ${whatWasDone(act, formats)}${by}`
}

function whatWasDone(act: DoneAct, formats: Formats): string {
  switch (act.act) {
    case 'told':
      return `told ${act.whom}, ${WAYS_TO_TELL[act.how]}`
    case 'accepted':
      return 'accepted'
    case 'declined':
      return `declined: ${act.reason}`
    case 'put-off':
      return `put off: ${act.reason}`
    case 'booked':
      return `booked for ${formats.day(act.visitOn)}`
    case 'done':
      return `done on ${formats.day(act.doneOn)}`
    case 'dropped':
      return 'dropped: it should not have been proposed'
  }
}

/** Money that is saved with its band: "about 340 (between −20 and 900)". */
export function savingWords(
  { saving, low, high }: { saving: number; low: number; high: number },
  formats: Formats,
): string {
  const about = formats.roughMoney(saving)
  const [from, to] = [formats.roughMoney(low), formats.roughMoney(high)]
  return from === to ? `about ${about}` : `about ${about} (between ${from} and ${to})`
}
