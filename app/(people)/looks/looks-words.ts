import type { LookKind } from '@/lib/decisions/advice'
import type { LooksToMake, LookToMake } from '@/lib/jobs/looks-to-make'
import type { UnscannedVehicle } from '@/lib/store/read/looks'
import type { Day } from '@/lib/units/dates'
import { aboutFrequency } from '../../ui/chance-words'
import type { Formats } from '../../ui/formats'
import { LOOKS } from '../../ui/record-words'
import { countWord, daysAgo, placeWords } from '../../ui/words'

type Told = Pick<Formats, 'count' | 'roughMoney' | 'money' | 'tally'>

export const kindWords = (kind: LookKind): string => upperFirst(LOOKS[kind])

/** So many parts are named; of more it is said how many. */
const MOST_NAMED = 3

/** What the look may change: "May show that the turbocharger is due now, or that the timing belt can wait." */
export function changeWords({ moves }: Pick<LookToMake, 'moves'>, { count }: Pick<Formats, 'count'>): string {
  const due = partsIn(moves.filter(({ now }) => now === 'leave'))
  const waits = partsIn(moves.filter(({ now }) => now === 'act'))
  if (due.length + waits.length === 0)
    return 'It brings a little for each of several parts, and turns what is right for none of them by itself.'
  const said = [
    due.length > 0 && `May show that ${either(due, count, 'is due now')}`,
    waits.length > 0 && `May show that ${either(waits, count, 'can wait')}`,
  ]
  return said
    .filter(Boolean)
    .map((each) => `${each}.`)
    .join(' ')
}

const either = (parts: string[], count: Formats['count'], what: string): string => {
  if (parts.length === 1) return `the ${parts[0]} ${what}`
  const more = parts.length - MOST_NAMED
  const named = parts.slice(0, MOST_NAMED).join('; ')
  return `one of these ${what}: ${named}${more > 0 ? `; and ${count(more)} more` : ''}`
}

/** Each part once, with its places: "fuel injector, cylinder 2, 3 or 4". */
function partsIn(moves: LookToMake['moves']): string[] {
  const names = [...new Set(moves.map(({ name }) => name))]
  return names.map((name) => {
    const own = moves.filter((move) => move.name === name).sort((a, b) => a.position - b.position)
    const [first] = own
    const where = first ? placeWords(first.place, first.position) : ''
    const others = own.slice(1).map(({ position }) => String(position))
    const last = others.pop()
    const all = where && last ? `${[where, ...others].join(', ')} or ${last}` : where
    return [lowerFirst(name), all].filter(Boolean).join(', ')
  })
}

/** What a look is worth; what rounds to nothing is still more than nothing. */
export const worthWords = (worth: number, { money }: Pick<Formats, 'money'>): string =>
  worth < 1 ? `under ${money(1)}` : money(worth)

/** "3.4 hours"; "1 hour". */
export const hoursWords = (hours: number, { tally }: Pick<Formats, 'tally'>): string =>
  tally(hours) === tally(1) ? `${tally(hours)} hour` : `${tally(hours)} hours`

/** What the page says first: how many looks, at how many vehicles, how long that takes and what it is worth. */
export function firstWords(
  { looks, hours, worth, inAll }: LooksToMake,
  free: number | null,
  formats: Told,
): string {
  const vehicles = new Set(looks.map(({ unit }) => unit)).size
  const what = `${looksWords(looks.length, formats)} at ${vehicleWords(vehicles, formats)}`
  const sum = `worth about ${formats.roughMoney(worth)} on the average, what looking costs taken off`
  if (free === null)
    return `${upperFirst(what)} ${looks.length === 1 ? 'is' : 'are'} worth making: ${takes(looks.length)} ${hoursWords(hours, formats)} and ${looks.length === 1 ? 'is' : 'are'} ${sum}.`
  if (looks.length === 0) return `No look that is worth making fits into ${hoursWords(free, formats)}.`
  const rest = inAll - looks.length
  const left =
    rest === 0 ? ' That is all of them.' : ` ${upperFirst(looksWords(rest, formats))} more would follow.`
  return `Make these ${looksWords(looks.length, formats)} at ${vehicleWords(vehicles, formats)} first: ${takes(looks.length)} ${hoursWords(hours, formats)} and ${looks.length === 1 ? 'is' : 'are'} ${sum}.${left}`
}

const takes = (looks: number) => (looks === 1 ? 'it takes' : 'they take')
export const looksWords = (looks: number, { count }: Pick<Formats, 'count'>) =>
  `${countWord(looks, count)} ${looks === 1 ? 'look' : 'looks'}`
export const vehicleWords = (vehicles: number, { count }: Pick<Formats, 'count'>) =>
  `${countWord(vehicles, count)} ${vehicles === 1 ? 'vehicle' : 'vehicles'}`

/** "never"; "212 days ago". */
export const lastWords = (on: Day | null, asOf: Day, { count }: Pick<Formats, 'count'>): string =>
  on === null ? 'never' : daysAgo(asOf - on, count)

/** How likely a part is going that no lamp tells of: "about 1 in 9". */
export const unlitWords = ({ unlit }: UnscannedVehicle, { count }: Pick<Formats, 'count'>): string =>
  aboutFrequency(unlit.pDeveloping, count)

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
const lowerFirst = (text: string) =>
  /^[A-Z][A-Z]/.test(text) ? text : text.charAt(0).toLowerCase() + text.slice(1)
