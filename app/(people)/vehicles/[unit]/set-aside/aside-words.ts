import type { VehicleSetAside } from '@/lib/jobs/set-aside'
import type { Formats } from '../../../../ui/formats'
import { placeWords } from '../../../../ui/words'

type Told = Pick<Formats, 'money' | 'count' | 'distance' | 'share'>

/** How long it is covered: "365 days or 15,000 km, whichever come first". */
export function coverWords({ days, km }: VehicleSetAside['cover'], formats: Told): string {
  const time = days === 1 ? 'a day' : `${formats.count(days)} days`
  return km === null
    ? `${time}, however far it is driven`
    : `${time} or ${formats.distance(km)}, whichever come first`
}

/** What must be done before anything is covered, and what it costs; nothing where it may be driven. */
export function firstWords(
  { first, enough }: Pick<VehicleSetAside, 'first' | 'enough'>,
  formats: Told,
): string[] {
  if (first === null) return []
  return [
    firstJobsWords(first, formats),
    `What follows is for the time after it. With it, ${casesWords(enough.share)} such covers stay within ` +
      `${formats.money(first.cost + enough.amount)}.`,
  ]
}

/** The jobs without which nothing is covered, and what they cost. */
export function firstJobsWords(first: NonNullable<VehicleSetAside['first']>, formats: Told): string {
  const jobs = first.jobs.map(({ name, place, position }) => {
    const at = placeWords(place, position)
    return at === '' ? name.toLowerCase() : `${name.toLowerCase()}, ${at}`
  })
  return (
    `Before anything else: ${jobs.join('; ')}. ${jobs.length === 1 ? 'That job costs' : 'Those jobs cost'} about ` +
    `${formats.money(first.cost)}, and nothing is covered before it is done and the vehicle was released.`
  )
}

/** "8 of 10"; "95 of 100" where tens do not say it. */
export function casesWords(share: number): string {
  const tenths = share * 10
  return Math.abs(tenths - Math.round(tenths)) < 1e-9
    ? `${Math.round(tenths)} of 10`
    : `${Math.round(share * 100)} of 100`
}

/** Who kept which terms with the vehicle, and what holds of them; in sentences. */
export function keptTermsWords(
  { terms, coverOf, choices }: Pick<VehicleSetAside, 'terms' | 'coverOf' | 'choices'>,
  formats: Told & Pick<Formats, 'moment'>,
): string {
  if (terms === null) return 'No terms are kept with it: without others the usual cover is reckoned with.'
  const { days, km, excluded, claimLimit, madeAt, madeByName } = terms
  const names = choices.flatMap(({ weakPoint, name }) =>
    excluded.includes(weakPoint) ? [name.toLowerCase()] : [],
  )
  const parts = [
    days === null ? 'as long as usual' : coverWords({ days, km }, formats),
    names.length === 0 ? 'no weak point left out' : `left out: ${names.join(', ')}`,
    limitWords(claimLimit, formats),
  ]
  const by = `Kept ${madeByName === null ? '' : `by ${madeByName} `}on ${formats.moment(madeAt)}.`
  const end = coverOf === 'vehicle' ? ' It is sold, so its cover ends as the sale says; the rest holds.' : ''
  return `Kept with it: ${parts.join('; ')}. ${by}${end}`
}

/** What is enough in so many cases, each in a sentence of its own. */
export function amountsWords({ p50, p80, p95 }: VehicleSetAside['amounts'], formats: Told): string[] {
  const enough = (cases: string, amount: number) =>
    amount > 0
      ? `In ${cases} such covers the cost stays within ${formats.money(amount)}.`
      : `In ${cases} such covers nothing is to be paid.`
  return [enough('half of', p50), enough('8 of 10', p80), enough('19 of 20', p95)]
}

/** The finding of the distribution: how many of 100 such covers cost nothing, and within what most of them stay. */
export function classesWords({ amounts, classes }: VehicleSetAside, formats: Told): string {
  const chance = classes[0]?.chance ?? 0
  const free = chance >= 0.005 && `${ofHundred(chance, formats)} cost nothing`
  const { p80, p95 } = amounts
  if (!(p95 > 0)) return `Of 100 such covers, ${ofHundred(chance, formats)} cost nothing.`
  const most = p80 > 0 ? `80 stay within ${formats.money(p80)} and 95` : '95 stay'
  const within = `${most} within ${formats.money(p95)}`
  return `Of 100 such covers, ${[free, within].filter(Boolean).join(', ')}; the others cost more.`
}

/** A chance as so many of a hundred. */
export function ofHundred(chance: number, { count }: Pick<Formats, 'count'>): string {
  const whole = Math.round(chance * 100)
  if (whole === 0 && chance > 0) return 'under 1'
  return whole === 100 && chance < 1 - 1e-9 ? `over ${count(99)}` : count(whole)
}

/** A class of costs. */
export function classWords({ from, upTo }: VehicleSetAside['classes'][number], formats: Told): string {
  if (upTo === 0) return 'nothing'
  return upTo === null
    ? `more than ${formats.money(from)}`
    : `${from === 0 ? 'up to' : `${formats.money(from)} to`} ${formats.money(upTo)}`
}

/** What of it is due to parts of which nobody knows how old they are. */
export function unknownWords({ amounts }: Pick<VehicleSetAside, 'amounts'>, formats: Told): string {
  const { mean, meanOfUnknownHistory: unknown } = amounts
  if (!(mean > 0)) return ''
  if (!(unknown > 0)) return 'Of every part it is known since when it is in: none of this is due to that.'
  return (
    `Of the average, ${formats.money(unknown)} (${formats.share(unknown / mean)}) is for parts of which nobody ` +
    'knows how old they are. A receipt that says when they were replaced, or a look at them, can change that part.'
  )
}

/** The amount as a share of the value, and the organisation's word for it; or what is missing for that. */
export function gradeWords(aside: VehicleSetAside, formats: Told): string {
  const { enough, first, value, shareOfValue, grade, hasOwnGrades } = aside
  const [amount, cases] = [enough.amount + (first?.cost ?? 0), casesWords(enough.share)]
  if (shareOfValue === null || value === null)
    return 'What it is worth is not on record, so what part of its value this is cannot be said.'
  const beside = first === null ? ',' : ', the job before it counted,'
  const share =
    amount > 0
      ? `${formats.money(amount)}, enough in ${cases} cases${beside} is ${formats.share(shareOfValue)} of its value (${formats.money(value)})`
      : `In ${cases} cases none of its value (${formats.money(value)}) is needed`
  if (grade !== null) return `${share}: “${grade}”, in your own words.`
  return hasOwnGrades
    ? `${share}; none of your own words goes so far.`
    : `${share}. Words of your own for such shares can be set under Settings.`
}

/** What is left out, by name; with no end, for more may follow in the sentence. */
export function excludedWords({ choices }: Pick<VehicleSetAside, 'choices'>): string {
  const names = choices.flatMap(({ name, excluded }) => (excluded ? [name.toLowerCase()] : []))
  if (names.length === 0) return 'No weak point is left out'
  if (names.length === choices.length) return 'Every weak point is left out'
  return `Left out: ${names.join(', ')}`
}

/** What a failure costs at most. */
export const limitWords = (limit: number | null, formats: Told): string =>
  limit === null ? 'a failure is paid whole' : `at most ${formats.money(limit)} is paid for one failure`

/** A class of costs where there is little room: its upper end. */
export function shortClassWords({ from, upTo }: VehicleSetAside['classes'][number], formats: Told): string {
  if (upTo === null) return 'more'
  return `${from === 0 && upTo > 0 ? 'up to ' : ''}${formats.count(upTo)}`
}
