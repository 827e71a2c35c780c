import type { Complaint } from '@/lib/intake/typed-complaint'
import type { Family } from '@/lib/records/library'

/** What was noticed on a vehicle before it was kept: signs by key (`key@3` at a position), and codes. */
export type Noticed = Pick<Complaint, 'seen' | 'notSeen' | 'codes'>

/** A vehicle that was only asked about, as far as an address or another page knows it. */
export type AskedAbout = Partial<Record<'unit' | 'family' | 'odometer', string>> & Noticed

const MOST_CHARACTERS = 400

/** Reads what came along in a form, or in an address. */
export function noticedIn(from: Pick<URLSearchParams, 'getAll'> | FormData): Noticed {
  const all = (name: string) =>
    from.getAll(name).flatMap((value) => (typeof value === 'string' && value !== '' ? [value] : []))
  return { seen: all('seen'), notSeen: all('not'), codes: (all('codes')[0] ?? '').slice(0, MOST_CHARACTERS) }
}

/** Where a vehicle that was only asked about is kept: the form of a new vehicle with what is known of it. */
export function keepAddress({
  unit = '',
  family = '',
  odometer = '',
  codes,
  seen,
  notSeen,
}: AskedAbout): string {
  const said = [
    ['unit', unit],
    ['family', family],
    ['odometer', odometer],
    ['codes', codes],
    ...seen.map((sign) => ['seen', sign]),
    ...notSeen.map((sign) => ['not', sign]),
  ].filter(([, value]) => value !== '')
  return said.length === 0 ? '/new-vehicle' : `/new-vehicle?${new URLSearchParams(said)}`
}

/** What was noticed, in sentences; none where nothing was. */
export function noticedWords({ seen, notSeen, codes }: Noticed, family: Family | null): string[] {
  const named = (signs: string[]) =>
    signs.map((sign) => {
      const [key, position] = sign.split('@')
      const label = family?.signs.find((each) => each.key === key)?.label ?? key
      return position === undefined ? label : `${label} (${position})`
    })
  return [
    ...(seen.length > 0 ? [`Seen: ${named(seen).join('; ')}.`] : []),
    ...(notSeen.length > 0 ? [`Looked for and not seen: ${named(notSeen).join('; ')}.`] : []),
    ...(codes === '' ? [] : [`Codes: ${codes}.`]),
  ]
}
