import type { Family } from '@/lib/records/library'
import { odometerOn } from '@/lib/records/odometer-on'
import type { Odometer, OdometerQuestion } from '@/lib/records/trusted-odometer'
import { dayOfRecord } from '@/lib/records/vehicle-records'
import type { VehicleRecord } from '@/lib/store/read/vehicle-records'
import { ticksBetween, ticksUpTo } from '../../../ui/charts/axis-ticks'
import { ChartFigure } from '../../../ui/charts/figure'
import { OdometerChart, type Place } from '../../../ui/charts/odometer-chart'
import type { Formats } from '../../../ui/formats'
import { ODOMETER_CAUSES } from '../../../ui/record-words'
import { countWord } from '../../../ui/words'
import { RecordList } from './record-list'
import styles from './vehicle.module.css'

type Props = {
  records: VehicleRecord[]
  odometer: Odometer
  family: Family | null
  names: ReadonlyMap<string, string>
  page: string
  mayEnter: boolean
  /** Every record is listed, and not only the latest. */
  all: boolean
  formats: Formats
}

/** Everything on record against the odometer, and as a list. */
export function TimeLine(props: Props) {
  const { records, odometer } = props
  return (
    <section className={styles.timeLine} aria-labelledby="time-line">
      <h2 id="time-line">Everything recorded</h2>
      {records.length === 0 && <p>Nothing is on record yet. Begin with what the odometer says.</p>}
      {odometer.points.length > 0 && <OdometerFigure {...props} />}
      <Questions odometer={odometer} formats={props.formats} />
      {records.length > 0 && <RecordList {...props} />}
    </section>
  )
}

const MOST_POINTS = 300

function OdometerFigure({ records, odometer, formats }: Props) {
  const { points, trusted, upTo } = odometer
  const line = thinned(Array.from(trusted.day, (day, i) => ({ day, km: trusted.km[i]! })))
  const apart = points.filter(({ verdict }) => verdict === 'distrusted')
  const marks = records.flatMap((record) => {
    const km =
      record.state === 'live' && record.kind !== 'readings' ? odometerOn(odometer, dayOfRecord(record)) : null
    return km === null ? [] : [{ day: dayOfRecord(record), km }]
  })
  const from = Math.min(...points.map(({ day }) => day), ...marks.map(({ day }) => day))
  const most = Math.max(...points.map(({ km }) => km))
  return (
    <ChartFigure
      finding={odometerSentence(odometer, apart.length, formats)}
      caption="Odometer readings and what is made of them"
      headings={['Day', 'Reading', 'What is made of it']}
      rows={points.toReversed().map((point, i) => ({
        key: `${point.day} ${point.km} ${points.length - i}`,
        cells: [formats.day(point.day), formats.distance(point.readKm), verdictWords(point)],
      }))}
    >
      <OdometerChart
        line={line}
        apart={apart.map(({ day, km }) => ({ day, km }))}
        marks={thinned(marks.sort((a, b) => a.day - b.day))}
        across={ticksBetween(from, upTo, 4, formats.month)}
        up={ticksUpTo(most, formats.distance)}
      />
    </ChartFigure>
  )
}

/** At most so many of them, evenly taken, the last among them: a chart has no more room. */
function thinned(places: Place[]): Place[] {
  const step = Math.ceil(places.length / MOST_POINTS)
  return places.filter((_, i) => (places.length - 1 - i) % step === 0)
}

function verdictWords({ verdict, cause, source }: Odometer['points'][number]): string {
  if (verdict === 'trusted') return 'counts'
  if (verdict === 'same-day') return 'another of the same day counts'
  return [`does not count: ${ODOMETER_CAUSES[cause ?? 'unexplained']}`, source].filter(Boolean).join('; ')
}

function odometerSentence({ trusted, points }: Odometer, apart: number, formats: Formats): string {
  const [firstKm, lastKm] = [trusted.km[0], trusted.km.at(-1)]
  const [firstDay, lastDay] = [trusted.day[0], trusted.day.at(-1)]
  if (firstKm === undefined || lastKm === undefined || firstDay === undefined || lastDay === undefined)
    return 'None of its readings can be trusted yet.'
  const run = `From ${formats.distance(firstKm)} (${formats.month(firstDay)}) to ${formats.distance(lastKm)} (${formats.month(lastDay)})`
  const count = `${formats.count(points.length)} ${points.length === 1 ? 'reading' : 'readings'}`
  if (apart === 0) return `${run}: ${count}, and none contradicts the others.`
  return `${run}: of ${count}, ${countWord(apart, formats.count)} ${apart === 1 ? 'does' : 'do'} not fit and ${apart === 1 ? 'is' : 'are'} left out (crosses).`
}

/** What only a person can answer. */
function Questions({ odometer: { questions, points }, formats }: { odometer: Odometer; formats: Formats }) {
  const swapped = points.filter(({ cause }) => cause === 'swapped vehicle')
  if (questions.length === 0 && swapped.length === 0) return null
  return (
    <ul className={styles.questions}>
      {questions.map((question) => (
        <li key={question.kind}>{questionWords(question, formats)}</li>
      ))}
      {swapped.map(({ day, readKm }) => (
        <li key={day}>
          The reading of {formats.distance(readKm)} on {formats.day(day)} fits another vehicle on that day.
          Was it booked on the wrong one? Then withdraw it here and enter it there.
        </li>
      ))}
    </ul>
  )
}

function questionWords(question: OdometerQuestion, formats: Formats): string {
  if (question.kind === 'two sources') {
    const { source, differenceKm, fromDay, toDay } = question
    return `Two counts run side by side from ${formats.day(fromDay)} to ${formats.day(toDay)}: “${source}” says ${formats.distance(Math.abs(differenceKm))} ${differenceKm < 0 ? 'less' : 'more'} than the others. Which one is the instrument? Until it is known, “${source}” is left out; withdraw the readings that are wrong.`
  }
  return `The readings begin anew on ${formats.day(question.on)}. Was the instrument cluster changed then? If so, enter it as a change, with ${formats.distance(question.offsetKm)} run before.`
}
