import type { LookKind } from '@/lib/decisions/advice'
import type { LooksToMake, LookToMake } from '@/lib/jobs/looks-to-make'
import type { UnscannedVehicle } from '@/lib/store/read/looks'
import type { Day } from '@/lib/units/dates'
import { aboutFrequency } from '../../ui/chance-words'
import type { Formats } from '../../ui/formats'
import { countWord, daysAgo, LOOKS, placeWords } from '../../ui/words'

type Told = Pick<Formats, 'count' | 'roughMoney' | 'money' | 'tally'>

export const kindWords = (kind: LookKind): string => upperFirst(LOOKS[kind])

/** So many parts are named; of more it is said how many. */
const MOST_NAMED = 3

/** What the look may change: "May show that the turbocharger is due now, or that the belt can wait." */
export function changeWords({ moves }: Pick<LookToMake, 'moves'>, { count }: Pick<Formats, 'count'>): string {
  const [due, waits] = (['leave', 'act'] as const).map((now) => {
    const parts = moves.filter((move) => move.now === now)
    const named = parts.slice(0, MOST_NAMED).map(partWords)
    const more = parts.length - named.length
    return { some: parts.length > 0, many: parts.length > 1, words: either(named, more, count) }
  })
  if (!due?.some && !waits?.some)
    return 'It brings a little for each of several parts, and turns what is right for none of them by itself.'
  const said = [
    due?.some && `${due.words} ${due.many ? 'are' : 'is'} due now`,
    waits?.some && `${waits.words} can wait`,
  ].filter(Boolean)
  return `May show that ${said.join(', or that ')}.`
}

function either(named: string[], more: number, count: Formats['count']): string {
  if (more > 0) return `${named.join(', ')} or one of ${count(more)} more`
  const last = named.at(-1) ?? ''
  return named.length < 2 ? last : `${named.slice(0, -1).join(', ')} or ${last}`
}

export const partWords = ({ name, place, position }: LookToMake['moves'][number]): string =>
  [lowerFirst(name), placeWords(place, position)].filter(Boolean).join(' ')

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

/** What may be going unseen: "EGR valve: about 1 in 9". */
export const unlitWords = ({ unlit }: UnscannedVehicle, { count }: Pick<Formats, 'count'>): string =>
  aboutFrequency(unlit.pDeveloping, count)

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
const lowerFirst = (text: string) =>
  /^[A-Z][A-Z]/.test(text) ? text : text.charAt(0).toLowerCase() + text.slice(1)
