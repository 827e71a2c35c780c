import { createHash } from 'node:crypto'
import type { Letter, LetterJobTold, LetterSign, LetterWaits } from '@/lib/jobs/letter'
import { aboutFrequency, chanceInBand, halves } from '../../../../ui/chance-words'
import type { Formats } from '../../../../ui/formats'
import { NO_CAUTIONS } from '../../../../ui/library-words'
import { CAUTION, NOT_COVERED, placeWords } from '../../../../ui/words'
import { type Paper, type PaperJob, textSection } from '../../../paper/paper'
import { jobName, savingWords } from '../proposal-words'

/** Jobs and lines that a page has room for. */
const MOST_JOBS = 4
const THREE_MONTHS = 'three months'

/** A letter to a customer: what was seen on their engine, both halves of the chance, the money, and what may wait. */
export function letterPaper(letter: Letter, formats: Formats): Paper {
  const { customer, from, jobs, today } = letter
  return {
    from,
    title: `About your vehicle ${letter.plate ?? letter.unit}`,
    lines: [`For ${customer}`, whoWords(letter, formats), formats.longDay(today)],
    alarm: null,
    sections: [
      textSection(null, [opening(letter)]),
      {
        ...textSection(null, []),
        rows: {
          ...{ kind: 'jobs', most: MOST_JOBS },
          all: jobs.map((job) => jobOn(job, formats)),
          rest: (shown) => `And ${formats.count(jobs.length - shown)} more: ask us, and we tell you of each.`,
        },
      },
      textSection('What it costs, and what it may save', moneyWords(letter, formats)),
      textSection('What may wait', waitWords(letter, formats)),
      textSection('What we do not know', unknownWords(letter, formats)),
    ],
    foot: [
      CAUTION,
      'A chance is a forecast for many vehicles alike, not a finding on yours. You decide, and you need not answer. ' +
        'If you want no more letters of this kind, tell us, and there will be none.',
    ],
    blanks: [],
  }
}

/** The letter as it was written, line by line. */
export function letterText(paper: Paper): string {
  const { from, title, lines, sections, foot } = paper
  const told = sections.flatMap(({ heading, text, rows }) => [
    heading ?? '',
    ...text,
    ...(rows?.kind === 'jobs'
      ? rows.all.flatMap((job) => [job.name, ...job.text, `Mind: ${job.mind}`, ''])
      : []),
    '',
  ])
  return [from ?? '', title, ...lines, '', ...told, ...foot].join('\n').replace(/\n{3,}/g, '\n\n')
}

/** Two letters with the same mark say the same. */
export const letterMark = (text: string): string => createHash('sha256').update(text).digest('base64url')

function whoWords({ familyName, odometerKm, odometerReadOn }: Letter, formats: Formats): string {
  const read = odometerReadOn === null ? '' : `, last read on ${formats.day(odometerReadOn)}`
  return [familyName, odometerKm !== null && `odometer about ${formats.distance(odometerKm)}${read}`]
    .filter(Boolean)
    .join(' · ')
}

function opening({ jobs }: Letter): string {
  const due = jobs.filter((job) => job.due).length
  const along = due < jobs.length ? `, with what is easily done along with ${due === 1 ? 'it' : 'them'},` : ''
  const what =
    due === 1
      ? `One job on it${along} costs you less now, as far as we can tell, than if it is left`
      : `Some jobs on it${along} cost you less now, as far as we can tell, than if they are left`
  return (
    `We went through what is on record of your vehicle’s engine. ${what}, even if we are wrong by as much as we may ` +
    'well be. Here is what that rests on.'
  )
}

function jobOn(job: LetterJobTold, formats: Formats): PaperJob {
  return {
    name: jobName(job, job.positions),
    text: [seenWords(job, formats), chanceWords(job, formats), priceWords(job, formats)],
    mind: job.cautions.length > 0 ? job.cautions.join(' ') : NO_CAUTIONS,
    ticks: [],
    blanks: [],
  }
}

function seenWords(job: LetterJobTold, formats: Formats): string {
  const { seen, unlooked, lookedOn, intervalOut } = job
  const sentences = [
    seen.length > 0
      ? `Seen on your vehicle: ${seen.map((sign) => `${signName(sign, job)} (last on ${formats.day(sign.lastOn)})`).join('; ')}.`
      : `${lookedOn === null ? 'Nobody has looked for its signs lately' : 'No sign of it was seen'}${intervalOut ? '; its interval has run out' : ''}.`,
    lookedOn !== null && `Last looked at on ${formats.day(lookedOn)}.`,
    unlooked.length > 0 &&
      `Not looked for lately: ${unlooked.map((sign) => signName(sign, job)).join('; ')}.`,
  ]
  return sentences.filter(Boolean).join(' ')
}

const signName = ({ label, position }: LetterSign, { place }: LetterJobTold): string =>
  [label, placeWords(place, position)].filter(Boolean).join(', ')

function chanceWords({ chance, failureMode, positions, due }: LetterJobTold, formats: Formats): string {
  const which = positions.length > 1 ? 'one of them' : 'it'
  const fails = failureMode === '' ? 'fails' : `fails (${failureMode})`
  const along = due ? '' : ' It goes along because what hides it is open then.'
  return `The chance that ${which} ${fails} within ${THREE_MONTHS} if left is ${chanceInBand(chance, formats.count)}.${along}`
}

function priceWords({ price, priceIfFails, positions }: LetterJobTold, formats: Formats): string {
  const later =
    positions.length > 1 ? 'if one of them fails first, that one alone costs' : 'if it fails first,'
  return (
    `Done now it costs about ${formats.roughMoney(price)}; ${later} about ${formats.roughMoney(priceIfFails)}, with ` +
    'the harm that it does and the days without the vehicle.'
  )
}

function moneyWords({ jobs, money, visit, hours }: Letter, formats: Formats): string[] {
  const { price, chance, allGood } = money
  const { of, fail, hold } = halves(chance.pFail)
  const several = jobs.length > 1 || jobs.some(({ positions }) => positions.length > 1)
  const [part, good] = several ? ['one of these parts', 'every one of them'] : ['the part', 'it']
  const coming = visit > 0 ? `, and ${formats.roughMoney(visit)} for coming in` : ''
  return [
    `Of ${formats.count(of)} such vehicles left for ${THREE_MONTHS}, ${part} fails on about ${formats.count(fail)}; on ` +
      `${formats.count(hold)} it does not.`,
    `The work takes ${formats.tally(hours)} hours and costs about ${formats.roughMoney(price)}${coming}. Against leaving ` +
      `it for ${THREE_MONTHS} it saves you, on the mean over many such vehicles, ${savingWords({ ...money }, formats)}.`,
    `The money may be spent for nothing: the chance that ${good} is still good when it is opened is ` +
      `${aboutFrequency(allGood, formats.count)}. Then a part was replaced early, and you would have been right to wait.`,
  ]
}

function waitWords({ waits }: Letter, formats: Formats): string[] {
  if (waits.length === 0)
    return ['Of what else we know of this engine, nothing is likely enough to fail soon to be told of.']
  return waits.map((each) => waitLine(each, formats))
}

function waitLine({ chance, until, why, ...job }: LetterWaits, formats: Formats): string {
  const name = jobName(job, job.positions)
  const told = `${name}: ${chanceInBand(chance, formats.count)} within ${THREE_MONTHS}.`
  if (why === 'not-looked')
    return `${told} Nobody has looked at it lately: we would look first, before money is spent.`
  if (why === 'unsure') return `${told} Whether it pays now is not sure, so we do not ask you for it.`
  if (until === null) return `${told} It may wait for years, unless a sign shows.`
  return `${told} It may wait until about ${formats.month(until)}, unless a sign shows.`
}

function unknownWords({ weakPointsCovered, lastLookedAtOn }: Letter, formats: Formats): string[] {
  const looked =
    lastLookedAtOn === null
      ? 'Nobody has looked at the vehicle yet.'
      : `We last looked at it on ${formats.day(lastLookedAtOn)}.`
  return [
    `${looked} What we know are ${formats.count(weakPointsCovered)} weak points of its engine; ${NOT_COVERED}, nor is ` +
      'anything else that this letter does not name. That it names nothing more does not mean that all is in order.',
  ]
}
