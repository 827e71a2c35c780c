import type { Rival } from '@/lib/replay/judge'
import type { AgainstRival, ChanceClass, OfForecaster, TrackReport } from '@/lib/replay/track-report'
import type { Formats } from '../../ui/formats'

/** How the failures expected at each cut-off stand to those found. */
export function cutOffsSentence({ cutOffs, within, untold, days }: TrackReport, formats: Formats): string {
  const inAll = within === cutOffs.length
  const more =
    untold > 0
      ? ` From ${formats.count(untold)} more it cannot be told: too many parts were renewed with nothing noted of what they showed.`
      : ''
  const where = inAll ? 'From every one of them' : `From ${formats.count(within)} of them`
  return (
    `Looked back from ${formats.count(cutOffs.length)} days, each time ${formats.count(days)} days ahead. ` +
    `${where} as many failures were expected as came, within what chance allows.${more}`
  )
}

/** Whether a chance means what it says: at the highest class in which enough failed, and over all of them. */
export function classesSentence({ classes, calibration }: TrackReport, formats: Formats): string {
  const told = classes.filter(({ count, came }) => count * came >= ENOUGH_FAILED).at(-1)
  const one = told
    ? `Of the parts that were given about ${percent(told.said, formats)}, ${cameWords(told, formats)} failed. `
    : ''
  if (!calibration) return `${one}Too little has failed to say whether chances mean what they say.`
  return `${one}${CALIBRATION_WORDS[calibration.standing]} (slope ${formats.precise(calibration.slope)}, give or take ${formats.decimal(2 * calibration.slopeSe)}; 1 is right).`
}

const ENOUGH_FAILED = 10

const CALIBRATION_WORDS = {
  'as-said': 'High chances and low ones lie as far apart as they should',
  bold: 'High chances and low ones lie too far apart',
  timid: 'High chances and low ones do not lie far enough apart',
}

const percent = (share: number, formats: Formats) => formats.share(share)

const cameWords = ({ came, low, high }: ChanceClass, formats: Formats) =>
  `${percent(came, formats)} (between ${percent(low, formats)} and ${percent(high, formats)})`

/** What the scores gain on a rival, in error, in failures and in money. */
export function rivalSentence(rival: Rival, against: AgainstRival, formats: Formats): string {
  const { errorLess, standing } = against
  if (standing === 'too-few')
    return `${RIVAL_SUBJECT[rival]} too little has failed to say which chances came nearer to what happened.`
  const [less, more] = [Math.abs(errorLess.share), standing === 'worse']
  const between = [errorLess.low, errorLess.high].map(Math.abs).sort((a, b) => a - b)
  const [low, high] = between.map((share) => formats.share(share))
  const error =
    standing === 'alike'
      ? `${RIVAL_SUBJECT[rival]} no difference that these records can show.`
      : `${RIVAL_SUBJECT[rival]} the chances came ${more ? 'less near' : 'nearer'} to what happened, with an error ${formats.share(less)} ${more ? 'larger' : 'smaller'} (between ${low} and ${high}).`
  return `${error} ${workSentence(against, formats)}`
}

const RIVAL_SUBJECT: Record<Rival, string> = {
  ages: 'Against the same scores, had nobody ever looked at an engine:',
  library: 'Against what the library states, with nothing learned:',
  mileage: 'Against failure rates by what is on the odometer:',
  intervals: 'Against failure rates before and after a fixed interval:',
}

function workSentence({ preventedMore, spentLess }: AgainstRival, formats: Formats): string {
  if (preventedMore === 0 && spentLess === 0) return 'With as many jobs done it comes to the same.'
  const failures = `${formats.decimal(Math.abs(preventedMore))} ${preventedMore >= 0 ? 'more' : 'fewer'} failures`
  const money = `${formats.roughMoney(Math.abs(spentLess))} ${spentLess >= 0 ? 'less' : 'more'}`
  return `With as many jobs done, ${failures} would have been prevented and ${money} spent.`
}

/** Whether what was held to be likelier to fail failed sooner. */
export function orderSentence({ concordance }: OfForecaster, formats: Formats): string {
  if (concordance === null) return ''
  return `Of two parts of which one failed sooner, that one had been given the larger chance ${formats.count(100 * concordance)} times in 100; a coin would 50.`
}
