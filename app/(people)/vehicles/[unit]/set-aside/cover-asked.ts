import type { SetAsideAsked } from '@/lib/jobs/set-aside'
import { readTypedNumber } from '@/lib/records/typed-number'
import { kmFromMiles } from '@/lib/units/distances'

export type CoverAsked = Omit<SetAsideAsked, 'unit'> & {
  /** What of it could not be read, in sentences; then the usual holds in its place. */
  unread: string[]
}

const MOST_DAYS = 3650
const MOST_DISTANCE = 1_000_000
const MOST_MONEY = 1_000_000_000

/**
 * Reads the terms of a cover from an address: the form writes them there, so that they can be kept and sent.
 *
 * @param distance the unit in which distances are typed
 */
export function coverAsked(
  parameters: Record<string, string | string[] | undefined>,
  distance: 'km' | 'mi',
): CoverAsked {
  const all = (name: string) => [parameters[name] ?? []].flat()
  const typed = (name: string) => all(name)[0]?.trim() ?? ''
  const unread: string[] = []
  const number = (name: string, least: number, most: number, expected: string): number | null => {
    if (typed(name) === '') return null
    const read = readTypedNumber(typed(name))
    if (read !== null && read >= least && read <= most) return read
    unread.push(`“${typed(name)}” is not ${expected}.`)
    return null
  }
  const days = number('days', 1, MOST_DAYS, `a number of days from 1 to ${MOST_DAYS}`)
  const far = number('far', 1, MOST_DISTANCE, 'a distance')
  const claimLimit = number('limit', 0, MOST_MONEY, 'an amount, so there is no limit')
  if (far !== null && typed('days') === '') unread.push('A cover ends after some days: say how many.')
  // Whoever asks nothing gets the terms that are kept; the form always says how many days.
  const isAsked = ['days', 'far', 'limit', 'without'].some((name) => typed(name) !== '')
  const km = far === null ? null : distance === 'km' ? far : kmFromMiles(far)
  return {
    cover: days === null ? null : { days: Math.round(days), km },
    excluded: isAsked ? all('without') : null,
    claimLimit,
    unread,
  }
}
