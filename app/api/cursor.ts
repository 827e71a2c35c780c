import { Problem } from './problem'

/** Where a list goes on: the values by which its last row was sorted. */
export type Place = readonly (string | number)[]

/** A place as a client hands it back. */
export const writeCursor = (place: Place): string => Buffer.from(JSON.stringify(place)).toString('base64url')

type TypeName = 'string' | 'number'
type Values<Types extends readonly TypeName[]> = {
  [I in keyof Types]: { string: string; number: number }[Types[I]]
}

/**
 * Reads a place back.
 *
 * @param types of its values
 * @throws Problem `invalid` where it is none of such a list
 */
export function readCursor<const Types extends readonly TypeName[]>(
  cursor: string,
  types: Types,
): Values<Types> {
  const place = parsed(cursor)
  if (place.length === types.length && place.every((value, i) => typeof value === types[i] && isKept(value)))
    // Number and types of the values were compared just now; the compiler cannot follow a comparison by index.
    return place as unknown as Values<Types>
  throw new Problem('invalid', 'after: is no `next` of an answer to the same question')
}

const isKept = (value: unknown) => typeof value !== 'string' || !value.includes('\0')

function parsed(cursor: string): unknown[] {
  try {
    const place: unknown = JSON.parse(Buffer.from(cursor, 'base64url').toString('utf8'))
    return Array.isArray(place) ? place : []
  } catch {
    return []
  }
}
