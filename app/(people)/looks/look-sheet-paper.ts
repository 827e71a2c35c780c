import type { LookSheet, SheetSign } from '@/lib/jobs/look-sheet'
import type { Formats } from '../../ui/formats'
import { SIGN_KINDS } from '../../ui/library-words'
import { LOOK_SHEET } from '../../ui/page-words'
import { CAUTION, placeWords, STOP_ORDERS } from '../../ui/words'
import { type Paper, type PaperSection, textSection } from '../paper/paper'
import type { Box } from './boxes'
import { changeWords, kindWords } from './looks-words'

/** What is looked for on one vehicle, in the order of a walk round its engine, with boxes to tick. */
export function lookSheetPaper(sheet: LookSheet, from: string | null, formats: Formats, box: Box): Paper {
  const { head, kind, worth, zones, cautions } = sheet
  const { score } = head
  return {
    from,
    title: `${LOOK_SHEET}: ${head.unit}${kind === null ? '' : `, ${kindWords(kind).toLowerCase()}`}`,
    lines: [
      [head.plate, head.family, head.site, head.customer].filter(Boolean).join(' · '),
      score
        ? `As of ${formats.longDay(score.asOf)}.${score.odometerKm === null ? '' : ` Odometer about ${formats.distance(score.odometerKm)}.`}`
        : '',
    ].filter(Boolean),
    alarm:
      score?.standing === 'stop'
        ? `Do not drive it: no look on the road, no trial drive. ${STOP_ORDERS}`
        : null,
    sections: [
      ...worth.map(({ kind: one, moves }) =>
        textSection(null, [`${kindWords(one)}: ${lowerFirst(changeWords({ moves }, formats))}`]),
      ),
      ...(zones.length === 0 ? [textSection(null, ['The library knows no such sign of this engine.'])] : []),
      ...zones.map((zone) => zoneSection(zone, kind === null, box)),
      ...(kind === null || kind === 'scan' ? [scanSection(box)] : []),
    ],
    foot: [
      ...(cautions.length > 0 ? [`Mind: ${cautions.join(' ')}`] : []),
      'What is ticked neither “seen” nor “not seen” counts as not looked at: it tells nothing, and that is no harm.',
      CAUTION,
    ],
    blanks: ['Odometer', 'Looked on', 'By'],
  }
}

const scanSection = (box: Box): PaperSection =>
  textSection('Codes', [
    `${box} read, all of them · ${box} read, there were none · ${box} not read · ${box} cleared afterwards`,
    'Codes: ________________________________________',
  ])

function zoneSection(
  { zone, isElsewhere, signs }: LookSheet['zones'][number],
  tellKind: boolean,
  box: Box,
): PaperSection {
  return {
    ...textSection(isElsewhere ? 'Elsewhere' : upperFirst(zone), []),
    rows: {
      ...{ kind: 'table', caption: `Signs: ${zone}`, most: null },
      columns: [
        { name: 'Sign' },
        { name: 'seen' },
        { name: 'not seen' },
        { name: 'not looked at' },
        { name: 'How' },
      ],
      all: signs.map((sign) => [nameWords(sign), seenBoxes(sign, box), box, box, howWords(sign, tellKind)]),
      rest: (shown) => `And ${signs.length - shown} more: see the vehicle’s page.`,
    },
  }
}

const nameWords = ({ label, stop }: SheetSign) => (stop ? `${label}: do not drive on` : label)

/** One box; or one a position, where it is seen at one of several. */
const seenBoxes = ({ positions }: SheetSign, box: Box) =>
  positions.length === 0 ? box : positions.map((position) => `${box}\u00a0${position}`).join(' ')

function howWords({ kind, how, codes, positions, place }: SheetSign, tellKind: boolean): string {
  const where =
    positions.length > 0 ? `which ${placeWords(place, positions.length).replace(/ \d+$/, '')}` : ''
  return [
    codes.length > 0 && codes.join(', '),
    tellKind && upperFirst(SIGN_KINDS[kind]),
    where && `Tick ${where}`,
    how,
  ]
    .filter(Boolean)
    .map((each) => String(each).replace(/\.$/, ''))
    .join('. ')
    .concat('.')
    .replace(/^\.$/, '')
}

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
const lowerFirst = (text: string) => text.charAt(0).toLowerCase() + text.slice(1)
