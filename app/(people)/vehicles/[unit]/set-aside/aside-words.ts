import type { VehicleSetAside } from '@/lib/jobs/set-aside'
import type { Formats } from '../../../../ui/formats'

type Told = Pick<Formats, 'money' | 'count' | 'distance' | 'share'>

/** How long it is covered: "365 days or 15,000 km, whichever come first". */
export function coverWords({ days, km }: VehicleSetAside['cover'], formats: Told): string {
  const time = days === 1 ? 'a day' : `${formats.count(days)} days`
  return km === null
    ? `${time}, however far it is driven`
    : `${time} or ${formats.distance(km)}, whichever come first`
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
  const { amounts, value, shareOfValue, grade, hasOwnGrades } = aside
  if (shareOfValue === null || value === null)
    return 'What it is worth is not on record, so what part of its value this is cannot be said.'
  const share =
    amounts.p80 > 0
      ? `${formats.money(amounts.p80)}, enough in 8 of 10 cases, is ${formats.share(shareOfValue)} of its value (${formats.money(value)})`
      : `In 8 of 10 cases none of its value (${formats.money(value)}) is needed`
  if (grade !== null) return `${share}: “${grade}”, in your own words.`
  return hasOwnGrades
    ? `${share}; none of your own words goes so far.`
    : `${share}. Words of your own for such shares are not set: they stand as “grades” in settings.json.`
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
