import type { PlanDifference } from '@/lib/decisions/plan-difference'
import type { PlanNow } from '@/lib/jobs/plan-now'
import type { ProposedPlan } from '@/lib/jobs/plan-proposal'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import list from '../../ui/list-table.module.css'
import { leaveProposed, takeProposed } from './actions'
import styles from './anew.module.css'
import { broughtWords, changesWords } from './anew-words'
import plan from './plan.module.css'

type Props = {
  changes: PlanNow['changes']
  proposed: ProposedPlan | null
  mayPlan: boolean
  formats: Formats
}

/** Since when the plan is out of date and by what; and the plan that is proposed in its place, to be taken or left. */
export function Anew({ changes, proposed, mayPlan, formats }: Props) {
  return (
    <>
      {changes && (
        <p className={plan.changed}>
          {changesWords(changes, formats)}
          {!proposed && ' The next night a new plan is proposed here; nothing changes before you take it.'}
        </p>
      )}
      {proposed && <Proposed {...{ proposed, mayPlan, formats }} />}
    </>
  )
}

function Proposed({
  proposed,
  mayPlan,
  formats,
}: Omit<Props, 'changes' | 'proposed'> & { proposed: ProposedPlan }) {
  const { proposal, difference, isOvertaken } = proposed
  return (
    <section className={styles.proposed} aria-labelledby="anew">
      <h2 id="anew">What a new plan would change</h2>
      {broughtWords(proposed, formats).map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <Changes {...{ difference, formats }} />
      <p>
        <small>Worked out {formats.moment(proposal.proposedAt)}.</small>
      </p>
      {isOvertaken && (
        <p>
          What was said since takes hours or weeks that it needs, so that it cannot be taken any more: make
          the plan again.
        </p>
      )}
      {mayPlan && (
        <div className={styles.acts}>
          {!isOvertaken && (
            <form action={takeProposed.bind(null, proposal.id)}>
              <button type="submit">Take this plan</button>
            </form>
          )}
          <form action={leaveProposed.bind(null, proposal.id)}>
            <button type="submit">Leave the plan as it is</button>
          </form>
        </div>
      )}
    </section>
  )
}

const MOST_ROWS = 40

/** The visits that differ, the weeks in which they are and would be. */
function Changes({
  difference: { moved, added, dropped },
  formats,
}: {
  difference: PlanDifference
  formats: Formats
}) {
  const rows: { unit: string; from: number | null; to: number | null }[] = [
    ...moved,
    ...added.map(({ unit, to }) => ({ unit, from: null, to })),
    ...dropped.map(({ unit, from }) => ({ unit, from, to: null })),
  ]
  if (rows.length === 0) return null
  const week = (weekOn: number | null) => (weekOn === null ? 'no visit' : `week of ${formats.day(weekOn)}`)
  return (
    <>
      <table className={`${list.table} ${list.plain} ${list.narrow}`}>
        <caption className="for-ears">Visits that would be in another week</caption>
        <thead>
          <tr>
            <th scope="col">Vehicle</th>
            <th scope="col">Now</th>
            <th scope="col">Then</th>
          </tr>
        </thead>
        <tbody>
          {rows.slice(0, MOST_ROWS).map(({ unit, from, to }) => (
            <tr key={unit}>
              <th scope="row">
                <Link href={`/vehicles/${encodeURIComponent(unit)}#visit`}>{unit}</Link>
              </th>
              <td>{week(from)}</td>
              <td>{week(to)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {rows.length > MOST_ROWS && <p>And {formats.count(rows.length - MOST_ROWS)} more.</p>}
    </>
  )
}
