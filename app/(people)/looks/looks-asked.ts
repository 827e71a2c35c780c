import { LOOK_KINDS, type LookKind } from '@/lib/decisions/advice'
import {
  LOOK_SORTS,
  type LookSort,
  type LooksAsked,
  UNSCANNED_SORTS,
  type UnscannedSort,
} from '@/lib/jobs/looks-to-make'
import { readTypedNumber } from '@/lib/records/typed-number'

/** What the address asks of the page; `unread` says what in it could not be read. */
export type LooksView = LooksAsked & { unread: string[] }

const BARE_SORT: LookSort = { by: 'worth', descending: true }
const BARE_UNSCANNED: UnscannedSort = { by: 'going', descending: true }
const MOST_HOURS = 10_000
const MOST_DAYS = 3650
/** A scan so long ago is long ago, where nothing else is said. (A convention of ours, without a source.) */
const BARE_DAYS = 90
/** What is more telling from the top when it is first sorted by. */
const GREATEST_FIRST = ['worth', 'hours', 'scan', 'going']

type Parameters = Record<string, string | string[] | undefined>

export function looksAsked(parameters: Parameters): LooksView {
  const all = (name: string) => [parameters[name] ?? []].flat().filter((each) => each.trim() !== '')
  const unread: string[] = []
  const number = (name: string, most: number): number | null => {
    const said = all(name)[0]
    if (said === undefined) return null
    const read = readTypedNumber(said)
    if (read !== null && read >= 0 && read <= most) return read
    unread.push(said)
    return null
  }
  const sort = <By extends string>(
    name: string,
    columns: readonly By[],
    bare: { by: By; descending: boolean },
  ) => {
    const said = all(name)[0]
    const by = columns.find((each) => each === said?.replace(/^-/, ''))
    return by ? { by, descending: said?.startsWith('-') ?? false } : bare
  }
  return {
    sites: all('site'),
    kinds: all('kind').flatMap((each): LookKind[] => LOOK_KINDS.filter((kind) => kind === each)),
    hours: number('hours', MOST_HOURS),
    days: Math.round(number('days', MOST_DAYS) ?? BARE_DAYS),
    sort: sort('sort', LOOK_SORTS, BARE_SORT),
    unscannedSort: sort('scans', UNSCANNED_SORTS, BARE_UNSCANNED),
    unread,
  }
}

/** Every part of what is asked that the bare address does not ask, as parameters. */
export function parametersOf({
  sites,
  kinds,
  hours,
  days,
  sort,
  unscannedSort,
}: LooksAsked): [string, string][] {
  const text = ({ by, descending }: { by: string; descending: boolean }) => `${descending ? '-' : ''}${by}`
  const single: [string, string, string][] = [
    ['hours', hours === null ? '' : String(hours), ''],
    ['days', String(days), String(BARE_DAYS)],
    ['sort', text(sort), text(BARE_SORT)],
    ['scans', text(unscannedSort), text(BARE_UNSCANNED)],
  ]
  return [
    ...sites.map((site): [string, string] => ['site', site]),
    ...kinds.map((kind): [string, string] => ['kind', kind]),
    ...single.flatMap(([name, value, bare]): [string, string][] => (value === bare ? [] : [[name, value]])),
  ]
}

export function looksAddress(asked: LooksAsked, page = '/looks'): string {
  const query = new URLSearchParams(parametersOf(asked)).toString()
  return query ? `${page}?${query}` : page
}

/** The other way round where it is sorted by that column already. */
export const sortedBy = <By extends string>(sort: { by: By; descending: boolean }, by: By) => ({
  by,
  descending: sort.by === by ? !sort.descending : GREATEST_FIRST.includes(by),
})

/** The sheets of some vehicles, a page each; of a kind of look alone, where one is named. */
export function sheetAddress(units: readonly string[], kind: LookKind | null = null, page = '/looks/sheet') {
  return `${page}?${new URLSearchParams([
    ...units.map((unit): [string, string] => ['units', unit]),
    ...(kind === null ? [] : [['kind', kind] as [string, string]]),
  ])}`
}

/** The list of a walk round, of those that the page shows. @param site null: of the vehicles without one */
export function roundAddress(asked: LooksAsked, site: string | null, kind: LookKind): string {
  return `/looks/round?${new URLSearchParams([
    ...parametersOf(asked),
    ...(site === null ? [] : [['at', site] as [string, string]]),
    ['look', kind],
  ])}`
}
