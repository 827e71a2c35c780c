import type { Moved } from '@/lib/decisions/plan-why'
import { blocking } from '@/lib/jobs/act-on-plan'
import type { OpenVisit } from '@/lib/jobs/plan-now'
import type { StoredWork } from '@/lib/store/read/plan-work'
import type { Day } from '@/lib/units/dates'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import { ADVICE } from '../../ui/words'
import { moveHere } from './actions'
import { moveWords } from './move-words'
import styles from './plan.module.css'
import { visitAddress } from './plan-address'
import { hoursWords, type Places } from './plan-words'
import type { Opened } from './read-plan-page'

/** Hours of one bay in one week: worked, of these kept for breakdowns, what can be planned; and the most of any place. */
export type SlotHours = { worked: number; kept: number; free: number; widest: number }

type Props = {
  name: string
  place: { weekOn: Day; bay: number }
  hours: SlotHours
  visits: readonly OpenVisit[]
  work: readonly StoredWork[]
  opened: Opened | null
  moved: Moved | null
  places: Places
  mayPlan: boolean
  formats: Formats
}

/** One bay in one week. */
export function SlotCell(props: Props) {
  const { name, place, hours, visits, work, opened, moved, places, mayPlan, formats } = props
  const taken = visits.reduce((sum, visit) => sum + visit.hours, 0)
  return (
    <td className={styles.slot} data-label={name} data-slot={`${place.weekOn} ${place.bay}`}>
      <Lengths {...{ hours, visits, work }} />
      <p className={styles.slotHours}>{freeWords(hours, taken, formats)}</p>
      {(visits.length > 0 || work.length > 0) && (
        <ul className={styles.comes}>
          {visits.map((visit) => (
            <VisitLine key={visit.row.id} {...{ visit, mayPlan, formats }} isOpen={opened?.visit === visit} />
          ))}
          {work.map(({ id, what, unit, hours: takes }) => (
            <li key={id} className={styles.workLine}>
              {[what, unit].filter(Boolean).join(', ')} <small>{hoursWords(takes, formats)}</small>
            </li>
          ))}
        </ul>
      )}
      {mayPlan && opened && moved && <Move id={opened.visit.row.id} {...{ place, moved, places, formats }} />}
    </td>
  )
}

/** Less than so many hours too many is rounding. */
const LEAST_HOURS = 0.05

function freeWords({ worked, free }: SlotHours, taken: number, formats: Formats): string {
  const left = free - taken
  if (left < -LEAST_HOURS) return `${hoursWords(-left, formats)} more than there are`
  if (worked <= 0) return 'nobody works here'
  return `${formats.tally(Math.max(left, 0))} of ${hoursWords(worked, formats)} free`
}

const share = (part: number, whole: number) => `${Math.max(0, Math.min(1, part / whole)) * 100}%`

/** The hours as one line: as long as they are many. */
function Lengths({ hours, visits, work }: Pick<Props, 'hours' | 'visits' | 'work'>) {
  const { worked, kept, widest } = hours
  if (worked <= 0) return null
  // More than there are: then the line is all of it, and no longer than its place.
  const given = [...visits, ...work].reduce((sum, each) => sum + each.hours, kept)
  const whole = Math.max(worked, given)
  return (
    <div className={styles.lengths} style={{ inlineSize: share(worked, widest) }} aria-hidden="true">
      {visits.map((visit) => (
        <i
          key={visit.row.id}
          className={isStop(visit) ? styles.stopPart : styles.visitPart}
          style={{ inlineSize: share(visit.hours, whole) }}
        />
      ))}
      {work.map(({ id, hours: takes }) => (
        <i key={id} className={styles.workPart} style={{ inlineSize: share(takes, whole) }} />
      ))}
      <i className={styles.freePart} />
      {kept > 0 && <i className={styles.keptPart} style={{ inlineSize: share(kept, whole) }} />}
    </div>
  )
}

const isStop = ({ row, stops }: OpenVisit) => row.doneOn === null && stops

function VisitLine({
  visit,
  isOpen,
  mayPlan,
  formats,
}: {
  visit: OpenVisit
  isOpen: boolean
  mayPlan: boolean
  formats: Formats
}) {
  const { row, hours } = visit
  const marks = [
    ...(row.promisedOn === null ? [] : ['promised']),
    ...(row.pinned && row.promisedOn === null ? ['pinned'] : []),
  ]
  return (
    <li>
      <Link
        className={styles.visitLine}
        href={visitAddress(row.id)}
        aria-current={isOpen ? 'true' : undefined}
        data-visit={mayPlan ? row.id : undefined}
        draggable={mayPlan}
      >
        {isStop(visit) && (
          <span className={styles.stopMark}>
            <span aria-hidden="true">◆</span> <span className="for-ears">{ADVICE.stop}: </span>
          </span>
        )}
        <strong>{row.unit}</strong> <small>{[hoursWords(hours, formats), ...marks].join(', ')}</small>
      </Link>
    </li>
  )
}

/** What moving the open visit here would do, before it is done. */
function Move({
  id,
  place: { weekOn, bay },
  moved,
  places,
  formats,
}: { id: string; moved: Moved } & Pick<Props, 'place' | 'places' | 'formats'>) {
  const words = moveWords(moved, { places, formats })
  if (blocking(moved).length > 0) return <p className={styles.blocked}>{words}</p>
  return (
    <form action={moveHere.bind(null, id, weekOn, bay)}>
      <button type="submit" className={styles.move}>
        Move here: {words}
      </button>
    </form>
  )
}
