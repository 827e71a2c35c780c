import type { CardJob } from '@/lib/jobs/planned-visit'
import type { Formats } from '../../../ui/formats'
import { NO_CAUTIONS } from '../../../ui/library-words'
import { JOB_CARD } from '../../../ui/page-words'
import { CAUTION, STOP_ORDERS } from '../../../ui/words'
import { type Paper, type PaperJob, textSection } from '../../paper/paper'
import { jobName, jobNameIn } from './proposal-words'
import type { JobCardData } from './read-job-card'

const FOUND_BOXES = { about: 'Found', boxes: ['failed', 'going', 'good'] }
const DONE_BOXES = { about: null, boxes: ['replaced', 'freshened', 'quick fix', 'only looked at'] }

/** What to do on a visit and what to mind, with room for what is found. */
export function jobCardPaper(card: JobCardData, from: string | null, formats: Formats): Paper {
  const { head, visit, today, planned } = card
  const jobs = [...(visit?.jobs ?? [])].sort(byWeight)
  return {
    from,
    title: `${JOB_CARD}: ${head.unit}`,
    lines: [
      [head.plate, head.family, head.site, head.customer].filter(Boolean).join(' · '),
      [
        `As of ${formats.longDay(head.score?.asOf ?? today)}.`,
        head.score?.odometerKm != null && `Odometer about ${formats.distance(head.score.odometerKm)}.`,
        visit && jobs.length > 0 && hoursWords(visit, formats),
      ]
        .filter(Boolean)
        .join(' '),
      planned && plannedWords(planned, card, formats),
    ].filter((line): line is string => Boolean(line)),
    alarm: alarmOf(card, jobs),
    sections: [
      jobs.length === 0
        ? textSection(null, [planned ? ALL_ON_RECORD : NOTHING_DUE])
        : {
            ...textSection(null, []),
            rows: {
              ...{ kind: 'jobs', most: null },
              all: jobs.map((job) => jobOn(job, card, formats)),
              rest: (shown) => restWords(jobs.length - shown, formats),
            },
          },
    ],
    foot: [CAUTION],
    blanks: jobs.length === 0 ? [] : ['Odometer', 'Done on', 'By'],
  }
}

const NOTHING_DUE = 'Nothing is due: there is nothing to write on a card.'
const ALL_ON_RECORD = 'Every job that was planned for this visit is on record.'

type Planned = NonNullable<JobCardData['planned']>

/** When and where it was planned, and what of it is done already. */
function plannedWords({ weekOn, bay, written }: Planned, { family }: JobCardData, formats: Formats): string {
  const where = bay === null ? '' : `, ${bay}`
  const done = written.map((job) => jobNameIn(family, job)).join('; ')
  return [
    `As planned for the week of ${formats.day(weekOn)}${where}.`,
    done && `On record already, and not on this card: ${done}.`,
  ]
    .filter(Boolean)
    .join(' ')
}

/** What is not on the card and must not be driven with is said on it all the same: the card is older than the advice. */
function alarmOf({ components, planned }: JobCardData, jobs: readonly CardJob[]): string | null {
  const isOn = ({ weakPoint, position }: JobCardData['components'][number]) =>
    jobs.some((job) => job.weakPoint === weakPoint && job.positions.includes(position))
  const others = planned ? components.filter((each) => each.advice === 'stop' && !isOn(each)) : []
  const told = [
    jobs.some(({ stop }) => stop) && 'Do not drive before it is done.',
    others.length > 0 &&
      `Do not drive: ${others.map((each) => jobName(each, [each.position])).join('; ')} ` +
        `${others.length === 1 ? 'has' : 'have'} come up since, and ${others.length === 1 ? 'is' : 'are'} not on this card.`,
  ].filter(Boolean)
  return told.length === 0 ? null : [...told, STOP_ORDERS].join(' ')
}

/** What must be done, what is due, what goes along; of each the most worth first. */
const byWeight = (a: CardJob, b: CardJob) =>
  Number(b.stop) - Number(a.stop) || Number(b.due) - Number(a.due) || b.gain - a.gain

const hoursWords = ({ hours, jobs }: NonNullable<JobCardData['visit']>, formats: Formats) =>
  `${formats.tally(hours)} hours${jobs.length > 1 ? ', done together' : ''}.`

const restWords = (left: number, formats: Formats) =>
  `And ${formats.count(left)} more ${left === 1 ? 'job' : 'jobs'}, with ${left === 1 ? 'its' : 'their'} cautions: ` +
  'see the vehicle’s page before work begins.'

function jobOn(job: CardJob, { components, family }: JobCardData, formats: Formats): PaperJob {
  const weakPoint = family?.weakPoints.find(({ key }) => key === job.weakPoint)
  const leading = components.find(
    ({ weakPoint: key, position }) => key === job.weakPoint && job.positions.includes(position),
  )
  const signs = (family?.signs ?? []).filter(({ causes }) =>
    causes.some((cause) => cause.weakPoint === job.weakPoint),
  )
  const look = signs.map(({ label, how }) => (how ? `${label} (${how.replace(/\.$/, '')})` : label))
  return {
    name: leading ? jobName(leading, job.positions) : jobNameIn(family, job),
    text: [
      [
        `${formats.tally(job.hours)} hours.`,
        weakPoint?.part && `Part ${weakPoint.part}, ${formats.count(job.positions.length)} of them.`,
        leading?.speaks && `Why: ${leading.speaks}.`,
      ]
        .filter(Boolean)
        .join(' '),
      look.length > 0 && `Look first: ${look.join('; ')}.`,
    ].filter((line) => line !== false),
    mind: weakPoint && weakPoint.cautions.length > 0 ? weakPoint.cautions.join(' ') : NO_CAUTIONS,
    ticks: [FOUND_BOXES, DONE_BOXES],
    blanks: ['Part version', 'Supplier, batch'],
  }
}
