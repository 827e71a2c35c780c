import type { VehicleSetAside } from '@/lib/jobs/set-aside'
import { type EngineStory, knownFaults } from '@/lib/records/engine-story'
import type { Family } from '@/lib/records/library'
import type { VehicleHead } from '@/lib/store/read/vehicle-head'
import type { Day } from '@/lib/units/dates'
import type { Formats } from '../../../ui/formats'
import { STOCK_FILE, STOCK_SHEET } from '../../../ui/page-words'
import { CAUTION, NOT_COVERED, STOP_ORDERS } from '../../../ui/words'
import { type Paper, type PaperSection, textSection } from '../../paper/paper'
import type { readStock } from './read-stock'
import { amountsWords, coverWords, firstWords, gradeWords } from './set-aside/aside-words'
import { codeWords, faultWords, lookWords, moneyWords, sinceWords, whoWords, workWords } from './stock-words'

type Stock = NonNullable<Awaited<ReturnType<typeof readStock>>>
type Told = { from: string | null; formats: Formats }

/** For whoever may buy the vehicle: who it is and what was seen and done. No amounts, no names. */
export function stockSheetPaper(stock: Stock, { from, formats }: Told): Paper {
  return {
    ...{ from, title: `${STOCK_SHEET}: ${stock.head.unit}`, lines: headLines(stock, formats) },
    alarm: null,
    sections: storySections(stock, formats),
    foot: [
      'Not covered by this sheet: brakes, steering, tyres, bodywork and whatever else is no weak point of its ' +
        'engine. It says what is on record, and that is no warranty: what nobody looked at, nobody has seen.',
      CAUTION,
    ],
    blanks: [],
  }
}

/**
 * For the house alone: the sheet, with what is known to be wrong, what was paid and what may be to come.
 *
 * @param aside null where the vehicle is not assessed
 */
export function stockFilePaper(stock: Stock, aside: VehicleSetAside | null, { from, formats }: Told): Paper {
  const { head, vehicle } = stock
  return {
    ...{ from, title: `${STOCK_FILE}: ${head.unit}` },
    lines: ['For the house alone: not to be handed out.', ...headLines(stock, formats)],
    alarm: head.score?.standing === 'stop' ? `Do not drive. ${STOP_ORDERS}` : null,
    sections: [
      faultSection(stock, formats),
      textSection('Amounts', [moneyWords(vehicle, formats), ...asideLines(aside, formats)]),
      ...storySections(stock, formats),
    ],
    foot: [`Only the weak points of its engine are covered; ${NOT_COVERED}.`, CAUTION],
    blanks: [],
  }
}

function headLines({ head, vehicle, family, today, story }: Stock, formats: Formats): string[] {
  return [
    ...whoWords(vehicle, family, formats),
    `${odometerWords(head, formats)} As of ${formats.longDay(today)}.`,
    ...(story.since === null ? [] : [sinceWords(story.since, formats)]),
  ]
}

function odometerWords({ score }: VehicleHead, formats: Formats): string {
  if (score?.odometerKm == null) return 'Its odometer is not known.'
  const { odometerKm, odometerReadOn, odometerEstimated } = score
  const read = odometerReadOn === null ? 'never read' : `last read ${formats.day(odometerReadOn)}`
  return `Odometer ${formats.distance(odometerKm)}, ${odometerEstimated ? `estimated; ${read}` : read}.`
}

function asideLines(aside: VehicleSetAside | null, formats: Formats): string[] {
  if (!aside) return ['It is not assessed, so what to set aside cannot be said.']
  const amounts = amountsWords(aside.amounts, formats).join(' ')
  return [
    ...firstWords(aside, formats),
    `To set aside for a cover of ${coverWords(aside.cover, formats)}. ${amounts}`,
    gradeWords(aside, formats),
  ]
}

function faultSection({ story, family }: Stock, formats: Formats): PaperSection {
  const faults = knownFaults(story, family)
  if (faults.length === 0)
    return textSection('Faults known', ['None on record that no later record has settled.'])
  return {
    ...{ heading: 'Faults known', mark: 'Check what you must disclose.', text: [] },
    rows: {
      ...{ kind: 'lines', most: null },
      all: faults.map((fault) => `${formats.day(fault.on)}: ${faultWords(fault, family, formats)}`),
      rest: (shown) =>
        `And ${formats.count(faults.length - shown)} more, which are older: see the vehicle’s page.`,
    },
  }
}

type Line = { on: Day; odometerKm: number | null; words: string }

const MOST_LOOKS = 12

/** What was looked at and what was renewed on this engine, with the day of each; the latest first. */
function storySections({ story, family }: Stock, formats: Formats): PaperSection[] {
  const works = story.repairs.flatMap((row) => {
    const words = workWords(row, family)
    return words === null ? [] : { on: row.doneOn, odometerKm: row.odometerKm, words }
  })
  return [
    linesSection(looksIn(story, family, formats), formats, {
      ...{ heading: 'Looked at, and seen', caption: 'Looks', most: MOST_LOOKS },
      none: 'No look at this engine is on record.',
    }),
    linesSection(works, formats, {
      ...{ heading: 'Work on its weak points', caption: 'Work', most: null },
      none: 'None is on record.',
    }),
  ]
}

type Named = { heading: string; caption: string; none: string; most: number | null }

function linesSection(
  lines: Line[],
  formats: Formats,
  { heading, caption, none, most }: Named,
): PaperSection {
  if (lines.length === 0) return textSection(heading, [none])
  const sorted = [...lines].sort((a, b) => b.on - a.on)
  const first = sorted.at(-1)
  return {
    ...textSection(heading, []),
    rows: {
      ...{ kind: 'table', caption, most },
      columns: [{ name: 'Day' }, { name: 'Odometer' }, { name: 'What' }],
      all: sorted.map(({ on, odometerKm, words }) => [
        formats.day(on),
        odometerKm === null ? 'not noted' : formats.distance(odometerKm),
        words,
      ]),
      rest: (shown) =>
        `And ${formats.count(sorted.length - shown)} earlier, from ${first ? formats.day(first.on) : ''} on.`,
    },
  }
}

function looksIn({ checks, codes }: EngineStory, family: Family | null, formats: Formats): Line[] {
  return [
    ...checks.map((row) => ({
      ...{ on: row.checkedOn, odometerKm: row.odometerKm },
      words: lookWords(row, family),
    })),
    ...codes.map((row) => ({
      ...{ on: row.seenOn, odometerKm: row.odometerKm },
      words: codeWords(row, formats),
    })),
  ]
}
