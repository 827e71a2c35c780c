import { freeHours, type PlanRequest } from '@/lib/decisions/plan-request'
import type { OpenVisit } from '@/lib/jobs/plan-now'
import type { StoredWork } from '@/lib/store/read/plan-work'
import type { Day } from '@/lib/units/dates'
import type { Formats } from '../../ui/formats'
import styles from './plan.module.css'
import type { Opened } from './read-plan-page'
import { SlotCell } from './slot-cell'

type Props = {
  request: PlanRequest
  weeksOn: readonly Day[]
  bays: readonly { name: string }[]
  visits: readonly OpenVisit[]
  work: readonly StoredWork[]
  /** Weeks before this one are over. */
  from: Day
  /** The visit that is open: each place says what moving it there would do. */
  opened: Opened | null
  mayPlan: boolean
  formats: Formats
}

/** Weeks and bays: what comes when, hours drawn as lengths. */
export function PlanGrid(props: Props) {
  const { request, weeksOn, bays, visits, work, from, opened, mayPlan, formats } = props
  const free = freeHours(request)
  const widest = Math.max(1, ...request.hours.flat())
  const shown = weeksOn.map((weekOn, week) => ({ weekOn, week })).filter(({ weekOn }) => weekOn >= from)
  return (
    <table id="weeks" className={styles.grid}>
      <caption className={styles.caption}>
        <Key mayPlan={mayPlan} />
      </caption>
      <thead>
        <tr>
          <th scope="col">Week of</th>
          {bays.map(({ name }) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {shown.map(({ weekOn, week }) => (
          <tr key={weekOn}>
            <th scope="row">{formats.day(weekOn)}</th>
            {bays.map(({ name }, bay) => (
              <SlotCell
                key={name}
                name={name}
                place={{ weekOn, bay }}
                hours={{
                  worked: request.hours[bay]![week]!,
                  kept: request.hours[bay]![week]! * request.keptForBreakdowns,
                  free: free[bay]![week]!,
                  widest,
                }}
                visits={visits.filter((visit) => visit.week === week && visit.bay === bay)}
                work={work.filter((each) => each.weekOn === weekOn && each.bay === bay)}
                opened={opened}
                moved={opened?.moves[week]?.[bay] ?? null}
                places={{ weeksOn, bays }}
                {...{ mayPlan, formats }}
              />
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  )
}

/** What the lengths are. */
function Key({ mayPlan }: { mayPlan: boolean }) {
  return (
    <>
      <span className={styles.key}>
        <span>
          <i className={styles.visitPart} /> visits
        </span>
        <span>
          <i className={styles.stopPart} /> must not be driven
        </span>
        <span>
          <i className={styles.workPart} /> other work
        </span>
        <span>
          <i className={styles.keptPart} /> kept for breakdowns
        </span>
        <span>
          <i className={styles.freePart} /> free
        </span>
      </span>
      {mayPlan && (
        <span className={styles.howTo}>
          Open a visit to see what each move would cost, then move it there; arrow keys go from place to
          place. With a mouse it can be dragged.
        </span>
      )}
    </>
  )
}
