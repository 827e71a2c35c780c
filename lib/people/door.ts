import type { Database } from '@/lib/store/database'
import { readAnyPassword } from '@/lib/store/read/any-password'
import {
  type PersonWithoutPassword,
  readPeopleWithoutPassword,
} from '@/lib/store/read/people-without-password'
import { signInOf } from './sign-in'

/** Where the product stands: with its demo or empty, and for whoever comes from this machine or from anywhere. */
export type Place = { demo: boolean; local: boolean }

const LOCAL_NAME = /^(localhost|127(\.\d+){3}|\[?::1\]?)$/

/**
 * Where the product stands for a request. Local is who reaches a server that listens on this machine alone, by a name
 * of this machine (a page of elsewhere can point its own name here), and not through a proxy.
 *
 * @param variables the environment: GUDGEON_HOST, GUDGEON_DEMO
 */
export function placeOf(variables: Record<string, string | undefined>, headers: Headers): Place {
  const demo = variables.GUDGEON_DEMO !== 'no'
  const names = [
    variables.GUDGEON_HOST || 'localhost',
    (headers.get('host') ?? '').replace(/:\d+$/, ''),
    ...(headers.get('x-forwarded-for')?.split(',') ?? []),
  ]
  return { demo, local: names.every((name) => LOCAL_NAME.test(name.trim().replace(/^::ffff:/, ''))) }
}

/** What the door offers: whom one may enter as at a press, and which forms. */
export type Door = {
  demo: PersonWithoutPassword[]
  ownPeople: PersonWithoutPassword[]
  /** How to start an organisation of one's own: on this machine at a press, else once, as the first owner. */
  start: 'by-press' | 'as-first-owner' | null
  signIn: boolean
}

/** What the door offers at a place. People without a password are a convenience of the demo and of one machine. */
export async function readDoor(database: Database, { demo, local }: Place): Promise<Door> {
  const [people, owned] = await Promise.all([readPeopleWithoutPassword(database), readAnyPassword(database)])
  const byPress = demo && local
  return {
    demo: people.filter(({ decides }) => demo && decides !== null),
    ownPeople: people.filter(({ decides }) => local && decides === null),
    start: byPress ? 'by-press' : owned ? null : 'as-first-owner',
    signIn: owned,
  }
}

/**
 * Enters as somebody whom the door offers.
 *
 * @param headers of the request
 * @returns the headers with the session's cookie; null where the door does not offer them
 */
export async function enterAs(
  database: Database,
  place: Place,
  { person, headers: asked }: { person: string; headers: Headers },
): Promise<Headers | null> {
  const { demo, ownPeople } = await readDoor(database, place)
  if (![...demo, ...ownPeople].some(({ id }) => id === person)) return null
  const { headers } = await signInOf(database).api.enterByPress({
    body: { person },
    headers: asked,
    returnHeaders: true,
  })
  return headers
}
