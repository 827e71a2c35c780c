import type { Metadata } from 'next'
import { firstDayOf, mondayOf, weeksFrom } from '@/lib/decisions/plan-weeks'
import { can } from '@/lib/people/permissions'
import { requirePerson } from '../../require-person'
import { type Formats, formatsFor } from '../../ui/formats'
import { Frame } from '../../ui/frame'
import { Link } from '../../ui/link'
import { PAGE_NAMES } from '../../ui/page-words'
import { TwinLinks } from '../../ui/twin-links'
import { undoOnThePlan } from './actions'
import { Anew } from './anew-section'
import { DragMoves } from './drag-moves'
import { type LeftSort, leftSortIn } from './left-sort'
import { Making } from './making'
import styles from './plan.module.css'
import { PlanForms } from './plan-forms'
import { PlanGrid } from './plan-grid'
import { BelowTheLine, SaidFirst, SlippedList, ToWriteUp } from './plan-lists'
import { actSentence, gapWords, type Places } from './plan-words'
import { type PlanPageData, readPlanPage } from './read-plan-page'
import { VisitPanel } from './visit-panel'

export const metadata: Metadata = { title: PAGE_NAMES.plan }

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

const USUAL_WEEKS = 8

/** Which vehicles come when: visits on weeks and bays, why each is where it is, and what is left. */
export default async function PlanPage({ searchParams }: Props) {
  const { database, organisation, role } = await requirePerson()
  const parameters = await searchParams
  const visit = [parameters.visit ?? []].flat()[0] ?? null
  const found = await readPlanPage({ database, organisation }, { visit, now: new Date() })
  const { terms, plan: now, progress } = found
  const formats = formatsFor(terms, terms.distance)
  const mayPlan = can(role, 'plan')
  const hasBays = (now.terms?.bays.length ?? 0) > 0
  const weeksOn = weeksFrom(firstDayOf(now.today), now.terms?.weeks ?? USUAL_WEEKS)
  return (
    <Frame here="plan" asOf={now.plan ? `As of ${formats.longDay(now.plan.asOf)}` : null} choices={[]}>
      <h1 className={styles.title}>{PAGE_NAMES.plan}</h1>
      {now.plan ? (
        <Made {...{ found, mayPlan, formats }} sort={leftSortIn(parameters)} />
      ) : (
        <Empty {...found} hasBays={hasBays} />
      )}
      {!now.plan && (
        <Making {...{ progress, mayPlan, formats }} hasPlan={false} canPlan={hasBays && found.hasLibrary} />
      )}
      {!now.plan && <ToWriteUp {...now} {...{ named: found.named, formats }} />}
      {mayPlan && found.hasLibrary && (
        <PlanForms said={now} isFirst={now.plan === null} {...{ weeksOn, formats }} />
      )}
    </Frame>
  )
}

/** What to do first. */
function Empty({ hasBays, hasLibrary }: { hasBays: boolean; hasLibrary: boolean }) {
  if (!hasLibrary)
    return (
      <p className={styles.lead}>
        There is no engine yet that anything is known of: <Link href="/families">state one first</Link>. Then
        it says here which vehicles to bring in when.
      </p>
    )
  return (
    <p className={styles.lead}>
      {hasBays
        ? 'No plan has been made yet. It chooses which vehicles come in which week, so that the hours that there are save most; who must not be driven comes first.'
        : 'Say first which bays there are and how many hours are worked in them. Then the plan says which vehicles to bring in when, so that these hours save most.'}
    </p>
  )
}

type MadeProps = { found: PlanPageData; mayPlan: boolean; formats: Formats }

function Made({ found, sort, mayPlan, formats }: MadeProps & { sort: LeftSort }) {
  const { plan: now, progress, named, opened, familyOf } = found
  const plan = now.plan!
  const places: Places = { weeksOn: plan.weeksOn, bays: now.terms?.bays ?? [] }
  const told = { named, places, formats }
  return (
    <>
      <SaidFirst plan={plan} terms={now.terms} {...told} />
      <p className={styles.lead}>{leadWords(found, formats)}</p>
      <Anew changes={now.changes} {...{ proposed: found.proposed, mayPlan, formats }} />
      <Making {...{ progress, mayPlan, formats }} hasPlan canPlan={places.bays.length > 0} />
      <LastAct {...{ found, places, mayPlan, formats }} />
      {opened && (
        <VisitPanel
          {...{ opened, named, places, mayPlan, formats }}
          request={plan.request}
          family={familyOf.get(opened.visit.unit)}
          today={now.today}
        />
      )}
      {mayPlan && <DragMoves />}
      <PlanGrid
        {...{ opened, mayPlan, formats }}
        request={plan.request}
        weeksOn={plan.weeksOn}
        bays={places.bays}
        visits={now.visits}
        work={now.work}
        from={mondayOf(now.today)}
      />
      <p className={styles.leads}>
        <a href="/plan.ics" download>
          The visits as a calendar file
        </a>{' '}
        <TwinLinks csv="/plan.csv" of="the visits" />
      </p>
      <SlippedList plan={plan} {...told} />
      <ToWriteUp {...now} {...{ named, formats }} />
      <BelowTheLine {...{ plan, sort }} {...told} />
    </>
  )
}

function leadWords({ plan: { plan, visits, terms } }: PlanPageData, formats: Formats): string {
  if (!plan) return ''
  const gain = visits.reduce((sum, visit) => sum + visit.gain, 0)
  const count = visits.length === 1 ? 'One visit' : `${formats.count(visits.length)} visits`
  const bays = terms?.bays.length === 1 ? 'one bay' : `${terms?.bays.length ?? 0} bays`
  const gains = visits.length === 1 ? 'gains' : 'gain'
  const sum = `${count} over ${plan.weeks} weeks in ${bays} ${gains} about ${formats.roughMoney(gain)} against leaving everything until after them.`
  const made = ` Made ${formats.moment(plan.madeAt)}.`
  return `${sum} ${plan.bound === null && plan.gain === 0 ? 'They were put on one by one; no plan of all vehicles has been made yet.' : gapWords({ gain, bound: plan.bound }, formats)}${made}`
}

/** What was done last, and taking it back. */
function LastAct({ found, places, mayPlan, formats }: MadeProps & { places: Places }) {
  const { lastAct } = found
  if (!lastAct) return null
  return (
    <div id="last" className={styles.last} role="status">
      <p>
        {actSentence(lastAct.told, { places, formats })}{' '}
        <small>{[formats.moment(lastAct.at), lastAct.byName].filter(Boolean).join(', ')}</small>
      </p>
      {mayPlan && (
        <form action={undoOnThePlan.bind(null, lastAct.id)}>
          <button type="submit">Undo</button>
        </form>
      )}
    </div>
  )
}
