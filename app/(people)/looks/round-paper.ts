import type { LookKind } from '@/lib/decisions/advice'
import type { LookToMake } from '@/lib/jobs/looks-to-make'
import type { Day } from '@/lib/units/dates'
import type { Formats } from '../../ui/formats'
import { CAUTION } from '../../ui/words'
import { type Paper, textSection } from '../paper/paper'
import type { Box } from './boxes'
import { changeWords, hoursWords, kindWords, lastWords, vehicleWords } from './looks-words'

type Round = { site: string | null; kind: LookKind; looks: LookToMake[]; hours: number; asOf: Day }

/** The list of a walk round: one kind of look at the vehicles of one place, the most worth first. */
export function roundPaper(
  { site, kind, looks, hours, asOf }: Round,
  from: string | null,
  formats: Formats,
  box: Box,
): Paper {
  return {
    from,
    title: `Walk-round: ${kindWords(kind).toLowerCase()}, ${site ?? 'no site named'}`,
    lines: [
      `As of ${formats.longDay(asOf)}. ${upperFirst(vehicleWords(looks.length, formats))}, ${hoursWords(hours, formats)}.`,
    ],
    alarm: null,
    sections: [
      {
        ...textSection(null, [
          'What is looked for on each engine, and how, stands on its look sheet. What was seen is entered at the vehicle.',
        ]),
        rows: {
          ...{ kind: 'table', caption: 'Vehicles of the round', most: null },
          columns: [
            { name: 'Vehicle' },
            { name: 'Looked at' },
            { name: 'Something seen' },
            { name: 'Odometer' },
            { name: 'Last full scan' },
            { name: 'What it may change' },
          ],
          all: looks.map((look) => [
            [look.unit, look.plate].filter(Boolean).join(' · '),
            box,
            box,
            '________',
            lastWords(look.lastFullScanOn, look.asOf, formats),
            `${look.family}. ${changeWords(look, formats)}`,
          ]),
          rest: (shown) =>
            `And ${formats.count(looks.length - shown)} more, of less worth: see the page of looks.`,
        },
      },
    ],
    foot: [CAUTION],
    blanks: ['Walked on', 'By'],
  }
}

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
