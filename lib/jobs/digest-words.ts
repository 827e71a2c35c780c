import { type Day, formatDay } from '@/lib/units/dates'
import { aboutFrequency } from '@/lib/units/frequency'
import type { Digest, Some, Waiting } from './digest'

/** One line of the week: what it says, and where more of it stands. */
export type DigestLine = { text: string; address: string }

export type DigestSection = {
  key: 'untold' | 'stops' | 'rises' | 'overdue' | 'slipped' | 'reports' | 'due'
  heading: string
  lines: DigestLine[]
  /** Where the rest is, if there is more than is told; or why nothing can be said. */
  note: DigestLine | null
}

/** The week in words: the page, the mail and its plain text are made of the same, so that none is written twice. */
export type DigestText = {
  title: string
  /** What stands at the head: as of when, or that nothing happened. */
  lead: string
  sections: DigestSection[]
}

type Words = ReturnType<typeof wordsFor>

const NO_FINDING = 'That is no finding: what nobody looked at is not told.'

/** What stands at the head; what waited in a week that is over was kept by nobody. */
const LEADS = {
  present: {
    nothing: `Nothing that we know of happened, and nothing waits. ${NO_FINDING}`,
    something: 'What happened, and what waits as things stand now.',
  },
  past: {
    nothing: `Nothing that we know of happened; what waited then is not kept. ${NO_FINDING}`,
    something: 'What happened; what waited then is not kept.',
  },
}

/** The week in words. A section without a line is left out; where all are, the lead says so. */
export function digestText(digest: Digest): DigestText {
  const words = wordsFor(digest)
  const sections = [
    ...(digest.waits === null ? [] : [untold(digest.waits)]),
    stops(digest),
    rises(digest, words),
    ...(digest.waits === null ? [] : waiting(digest.waits, words)),
  ].filter(({ lines, note }) => lines.length > 0 || note !== null)
  const { terms, from, to, waits } = digest
  const nothing = sections.every(({ lines }) => lines.length === 0)
  return {
    title: `The week from ${words.day(from)} to ${words.day(to)}`,
    lead: `${terms.name}: ${LEADS[waits === null ? 'past' : 'present'][nothing ? 'nothing' : 'something']}`,
    sections,
  }
}

function wordsFor({ terms: { locale, currency } }: Digest) {
  const whole = new Intl.NumberFormat(locale, { maximumFractionDigits: 0 })
  const style = currency ? ({ style: 'currency', currency } as const) : {}
  const amount = new Intl.NumberFormat(locale, { ...style, maximumSignificantDigits: 2 })
  const date = new Intl.DateTimeFormat(locale, { dateStyle: 'medium', timeZone: 'UTC' })
  const count = (number: number) => whole.format(number)
  return {
    count,
    money: (number: number) => amount.format(number),
    day: (day: Day) => date.format(day * 86_400_000),
    chance: (chance: number) => aboutFrequency(chance, count),
  }
}

const vehicle = (unit: string, id = '') => `/vehicles/${encodeURIComponent(unit)}${id && `#${id}`}`
const many = (count: number, one: string, more: string, { count: write }: Words) =>
  `${write(count)} ${count === 1 ? one : more}`

/** What of a longer list is not told, as a line that leads to it. */
function rest({ shown, total }: Some<unknown>, address: string, { count }: Words): DigestLine | null {
  const left = total - shown.length
  return left > 0 ? { text: `and ${count(left)} more`, address } : null
}

const STOP_ORDERS = 'Engine off, do not restart, tow.'

const untold = ({ untold }: Waiting): DigestSection => ({
  key: 'untold',
  heading: 'Do not drive, and nobody has told the driver: telephone now',
  lines: untold.map(({ unit, name, reason }) => ({
    text: `${unit}, ${name}: ${reason}. ${STOP_ORDERS}`,
    address: vehicle(unit, 'stop'),
  })),
  note: null,
})

const stops = ({ stops }: Digest): DigestSection => ({
  key: 'stops',
  heading: 'Do not drive: new this week',
  lines: stops.map(({ unit, name, reason, told, released }) => ({
    text: `${unit}, ${name}: ${reason}. ${released ? 'Released since.' : told ? 'The driver was told.' : `Nobody has told the driver: telephone. ${STOP_ORDERS}`}`,
    address: vehicle(unit, 'stop'),
  })),
  note: null,
})

function rises({ rises, comparable, from }: Digest, words: Words): DigestSection {
  return {
    key: 'rises',
    heading: 'Likelier to fail than a week before, within 90 days',
    lines: rises.shown.map(({ unit, name, was, now }) => ({
      text: `${unit}, ${name}: ${words.chance(was)} became ${words.chance(now)}`,
      address: vehicle(unit),
    })),
    note: comparable
      ? rest(rises, `/?since=${formatDay(from - 1)}&changed=risen`, words)
      : {
          text: 'No scores were kept before this week: risen chances cannot be told yet',
          address: '/track-record',
        },
  }
}

function waiting({ overdue, slipped, reports, due, setAside }: Waiting, words: Words): DigestSection[] {
  const between = `${words.money(due.band.low)} and ${words.money(due.band.high)}`
  return [
    {
      key: 'reports',
      heading: 'Drivers’ reports, not confirmed',
      lines: reports.shown.map(({ id, unit, words: said, driver }) => ({
        text: `${unit}: “${said}”${driver === null ? '' : `, ${driver}`}`,
        address: `/reports?open=${id}`,
      })),
      note: rest(reports, '/reports', words),
    },
    {
      key: 'slipped',
      heading: 'Slipped from what was promised',
      lines: slipped.map(({ unit, promisedOn, weekOn }) => ({
        text: `${unit}: promised for the week of ${words.day(promisedOn)}, now ${weekOn === null ? 'in no visit' : `in that of ${words.day(weekOn)}`}`,
        address: '/plan',
      })),
      note: null,
    },
    {
      key: 'overdue',
      heading: 'Not scanned for long, while a fault may be going that lights no lamp',
      lines: overdue.shown.map(({ unit, unlit, asOf, lastFullScanOn }) => ({
        text: `${unit}, ${unlit.name}: ${words.chance(unlit.pDeveloping)} that it is going; ${lastFullScanOn === null ? 'never scanned' : `last scanned ${many(asOf - lastFullScanOn, 'day', 'days', words)} ago`}`,
        address: vehicle(unit),
      })),
      note: rest(overdue, '/looks#unscanned', words),
    },
    {
      key: 'due',
      heading: 'Amounts',
      lines: [
        ...(due.visits === 0
          ? []
          : [
              {
                text: `${many(due.visits, 'visit is', 'visits are', words)} due; leaving them for one slot costs about ${words.money(due.cost)} (between ${between})`,
                address: '/?advice=book',
              },
            ]),
        ...(setAside === null
          ? []
          : [
              {
                text: `To set aside for ${many(setAside.vehicles, 'vehicle', 'vehicles', words)} for sale or under cover: ${words.money(setAside.amount)}`,
                address: '/stock',
              },
            ]),
      ],
      note: null,
    },
  ]
}
