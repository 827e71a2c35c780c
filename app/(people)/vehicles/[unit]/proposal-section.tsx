import { type ActName, actsAfter, isOpen, standingOf } from '@/lib/decisions/proposals'
import type { Family } from '@/lib/records/library'
import type { Proposal } from '@/lib/store/read/proposals'
import { type Day, formatDay } from '@/lib/units/dates'
import { chanceInBand } from '../../../ui/chance-words'
import type { Formats } from '../../../ui/formats'
import { KeptForm, SelectField, TextField } from '../../../ui/kept-form'
import { NO_CAUTIONS } from '../../../ui/library-words'
import { PROPOSALS } from '../../../ui/page-words'
import { WAYS_TO_TELL } from '../../../ui/told-words'
import { CAUTION, horizonWords } from '../../../ui/words'
import { answerProposal, undoAnswer } from './proposal-actions'
import { actWords, jobName, savingWords, standingWords } from './proposal-words'
import styles from './visit.module.css'

type Props = {
  proposals: Proposal[]
  /** The engine of the vehicle, whose cautions stand by every job that is still open. */
  family: Family | null
  mayAnswer: boolean
  today: Day
  formats: Formats
}

/** What was proposed, what people said to it, and what came of it: the open ones first. */
export function ProposalSection({ proposals, ...told }: Props) {
  if (proposals.length === 0) return null
  const standing = proposals.map((proposal) => ({
    proposal,
    standing: standingOf(proposal, proposal.acts, proposal.works),
  }))
  const open = standing.filter((each) => isOpen(each.standing))
  const closed = standing.filter((each) => !isOpen(each.standing))
  return (
    <section id="proposals" className={styles.visit} aria-labelledby="proposals-heading">
      <h2 id="proposals-heading">{PROPOSALS}</h2>
      {open.map((each) => (
        <One key={each.proposal.id} {...each} {...told} />
      ))}
      {open.length > 0 && <p className={styles.cautions}>{CAUTION}</p>}
      {closed.length > 0 && (
        <details>
          <summary>{closed.length === 1 ? 'One that is closed' : `${closed.length} that are closed`}</summary>
          {closed.map((each) => (
            <One key={each.proposal.id} {...each} {...told} />
          ))}
        </details>
      )}
    </section>
  )
}

type OneProps = Omit<Props, 'proposals'> & { proposal: Proposal; standing: ReturnType<typeof standingOf> }

function One({ proposal, standing, family, mayAnswer, today, formats }: OneProps) {
  const { id, acts, positions, price, hours, saving, savingLow, savingHigh } = proposal
  const last = acts.at(-1)
  const name = jobName(proposal, positions)
  const band = saving === null ? null : { saving, low: savingLow ?? saving, high: savingHigh ?? saving }
  return (
    <article className={styles.proposal} aria-label={name}>
      <h3>{name}</h3>
      <p className={styles.state}>{standingWords(standing, formats)}</p>
      <p>
        {formats.money(price)}, {formats.tally(hours)} hours
        {band && `; saves ${savingWords(band, formats)}`}. {thoughtWords(proposal, formats)}
      </p>
      {isOpen(standing) && (
        <p className={styles.cautions}>
          <strong>Cautions:</strong> {cautionWords(proposal, family)}
        </p>
      )}
      <ol className={styles.history}>
        <li>
          {formats.moment(proposal.madeAt)}: proposed
          {proposal.madeByName && ` (${proposal.madeByName})`}
        </li>
        {acts.map((act) => (
          <li key={act.id}>
            {actWords(act, formats)}
            {mayAnswer && act === last && (
              <form action={undoAnswer.bind(null, act.id)} className={styles.undo}>
                <button type="submit">Undo</button>
              </form>
            )}
          </li>
        ))}
      </ol>
      {mayAnswer && (
        <div className={styles.answers}>
          {actsAfter(standing.state).map((act) => (
            <details key={`${act} ${acts.length}`} name={`answer ${id}`}>
              <summary>{ASKED[act]}</summary>
              <KeptForm action={answerProposal.bind(null, id, act)} submit={SAID[act]}>
                <Fields {...{ act, today }} />
              </KeptForm>
            </details>
          ))}
        </div>
      )}
    </article>
  )
}

function cautionWords({ weakPoint }: Proposal, family: Family | null): string {
  const cautions = family?.weakPoints.find(({ key }) => key === weakPoint)?.cautions ?? []
  return cautions.length > 0 ? cautions.join(' ') : NO_CAUTIONS
}

/** What was thought of it at that hour. */
function thoughtWords({ chances, horizonDays, evidence }: Proposal, formats: Formats): string {
  const [likeliest] = chances.toSorted((a, b) => b.pFail - a.pFail)
  if (!likeliest) return ''
  const chance = `Then the chance that it fails within ${horizonWords(horizonDays)} was ${chanceInBand(likeliest, formats.count)}`
  return evidence ? `${chance}: ${evidence}.` : `${chance}.`
}

const ASKED: Record<ActName, string> = {
  told: 'Somebody was told',
  accepted: 'They said yes',
  declined: 'They said no',
  'put-off': 'Not yet',
  booked: 'It has a day',
  done: 'It was done',
  dropped: 'It should not have been proposed',
}
const SAID: Record<ActName, string> = {
  told: 'Note who was told',
  accepted: 'Note the yes',
  declined: 'Note the no',
  'put-off': 'Put it off',
  booked: 'Book it',
  done: 'It was done',
  dropped: 'Drop it',
}

const MONTH_DAYS = 30

function Fields({ act, today }: { act: ActName; today: Day }) {
  switch (act) {
    case 'told':
      return (
        <>
          <TextField
            name="whom"
            label="Who was told"
            hint="By name, or as “the driver”."
            autoComplete="off"
          />
          <SelectField
            name="how"
            label="How"
            options={Object.entries(WAYS_TO_TELL).map(([value, label]) => ({ value, label }))}
          />
        </>
      )
    case 'declined':
      return (
        <>
          <TextField name="reason" label="Their reason" hint="In their words." autoComplete="off" />
          <TextField
            name="askAgainOn"
            label="Ask again on"
            hint="Blank: not of ourselves. Until then nobody is written to about it."
            type="date"
          />
        </>
      )
    case 'put-off':
      return (
        <>
          <TextField name="reason" label="Their reason" hint="In their words." autoComplete="off" />
          <TextField
            name="askAgainOn"
            label="Ask again on"
            type="date"
            value={formatDay(today + MONTH_DAYS)}
          />
        </>
      )
    case 'booked':
      return <TextField name="visitOn" label="It comes on" type="date" value={formatDay(today + 1)} />
    case 'done':
      return (
        <TextField
          name="doneOn"
          label="Done on"
          hint="Then record the repair above with what was found: only that closes it."
          type="date"
          value={formatDay(today)}
        />
      )
    default:
      return null
  }
}
