import type { Complaint } from '@/lib/intake/typed-complaint'
import { faultAsked } from '../fault-asked'

export type UnrecordedAsked = Omit<Complaint, 'unit'> & { limit: number | null; unread: string | null }

type Parameters = Record<string, string | string[] | undefined>

/** A vehicle without a number of its own, as long as it is not kept. */
export const NO_NUMBER = 'not kept'

const MOST_CHARACTERS = 400

/** What is said of the vehicle stands in the address, and nowhere else. */
export function unrecordedAsked(parameters: Parameters): UnrecordedAsked {
  const all = (name: string) => [parameters[name] ?? []].flat().filter((each) => each !== '')
  const one = (name: string) => (all(name)[0] ?? '').slice(0, MOST_CHARACTERS)
  const { limit, unread } = faultAsked(parameters)
  return {
    ...{ family: one('engine'), odometer: one('odometer'), codes: one('codes') },
    ...{ seen: all('seen'), notSeen: all('not'), limit, unread },
  }
}

/** The same as parameters. */
export const unrecordedParameters = ({
  family,
  odometer,
  codes,
  seen,
  notSeen,
  limit,
}: UnrecordedAsked): [string, string][] =>
  (
    [
      ['engine', family],
      ['odometer', odometer],
      ['codes', codes],
      ['limit', limit === null ? '' : String(limit)],
      ...seen.map((each) => ['seen', each]),
      ...notSeen.map((each) => ['not', each]),
    ] as [string, string][]
  ).filter(([, value]) => value !== '')
