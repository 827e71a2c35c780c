import type { PlanStatements } from '@/lib/jobs/plan-now'
import { type Day, formatDay } from '@/lib/units/dates'
import type { Formats } from '../../ui/formats'
import { KeptForm, SelectField, TextField } from '../../ui/kept-form'
import { bookWork, changePlanTerms, changeWeekHours, sayAway, withdraw } from './actions'
import styles from './plan.module.css'
import { MOST_BAYS } from './plan-typed'
import { hoursWords } from './plan-words'

type Props = {
  said: PlanStatements
  /** The weeks that can be chosen. */
  weeksOn: readonly Day[]
  /** There is no plan yet: then the bays are what comes first. */
  isFirst: boolean
  formats: Formats
}

const USUAL = { weeks: 8, kept: 0.15 }
/** Empty rows for bays that are added. */
const MORE_BAYS = 2
const PERCENT = 100

/** What the plan is made from: bays and hours, other work, days on which vehicles are away. */
export function PlanForms({ said, weeksOn, isFirst, formats }: Props) {
  const { terms } = said
  const hasBays = terms !== null && terms.bays.length > 0
  return (
    <section className={styles.forms} aria-label="What the plan is made from">
      <details open={isFirst}>
        <summary>Bays and hours</summary>
        <TermsForm terms={terms} formats={formats} />
      </details>
      {hasBays && (
        <>
          <details>
            <summary>Other hours in one week</summary>
            <KeptForm action={changeWeekHours} submit="Keep these hours">
              <BayField bays={terms.bays} />
              <WeekField {...{ weeksOn, formats }} />
              <TextField
                name="hours"
                label="Hours worked there in that week"
                inputMode="decimal"
                unit="hours"
              />
            </KeptForm>
          </details>
          <details>
            <summary>Book other work</summary>
            <p>
              It takes hours of a bay. Where it names a vehicle, that one is there anyway, and its visit costs
              nothing.
            </p>
            <KeptForm action={bookWork} submit="Book it">
              <TextField name="what" label="What" hint="Tyres, a test, body work." autoComplete="off" />
              <TextField
                name="unit"
                label="Vehicle"
                hint="Blank: none that is listed here."
                autoComplete="off"
              />
              <BayField bays={terms.bays} />
              <WeekField {...{ weeksOn, formats }} />
              <TextField name="hours" label="Hours" inputMode="decimal" unit="hours" />
            </KeptForm>
          </details>
          <details>
            <summary>A vehicle is not available</summary>
            <p>A week is closed to it when all of its working days are.</p>
            <KeptForm action={sayAway} submit="Note it">
              <TextField name="unit" label="Vehicle" autoComplete="off" />
              <TextField name="from" label="From" type="date" value={formatDay(said.today)} />
              <TextField name="until" label="Until, this day included" type="date" />
            </KeptForm>
          </details>
          <Stated {...{ said, formats }} />
        </>
      )}
    </section>
  )
}

function TermsForm({ terms, formats }: { terms: PlanStatements['terms']; formats: Formats }) {
  const bays = terms?.bays ?? []
  const rows = Array.from({ length: Math.min(bays.length + MORE_BAYS, MOST_BAYS) }, (_, i) => bays[i] ?? null)
  return (
    <KeptForm action={changePlanTerms} submit="Keep it">
      {rows.map((bay, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a row is its place: what stands in it may change
        <div key={i} className={styles.pair}>
          <TextField
            name={`name${i}`}
            label={bay ? `Bay ${i + 1}` : 'One more bay'}
            value={bay?.name ?? ''}
            autoComplete="off"
          />
          <TextField
            name={`hours${i}`}
            label={bay ? `Hours a week in ${bay.name}` : 'Its hours a week'}
            value={bay ? formats.exact.number(bay.hours) : ''}
            inputMode="decimal"
            unit="hours"
          />
        </div>
      ))}
      <TextField
        name="kept"
        label="Of all hours, kept for breakdowns"
        value={formats.exact.number((terms?.kept ?? USUAL.kept) * PERCENT)}
        inputMode="decimal"
        unit="%"
      />
      <TextField
        name="weeks"
        label="The plan looks ahead"
        value={String(terms?.weeks ?? USUAL.weeks)}
        inputMode="numeric"
        unit="weeks"
      />
    </KeptForm>
  )
}

function BayField({ bays }: { bays: readonly { name: string }[] }) {
  return (
    <SelectField
      name="bay"
      label="Bay"
      options={bays.map(({ name }, bay) => ({ value: String(bay), label: name }))}
    />
  )
}

function WeekField({ weeksOn, formats }: Pick<Props, 'weeksOn' | 'formats'>) {
  const options = weeksOn.map((weekOn) => ({
    value: formatDay(weekOn),
    label: `Week of ${formats.day(weekOn)}`,
  }))
  return <SelectField name="weekOn" label="Week" options={options} />
}

/** Other work and closed days that stand, each to be taken back. */
function Stated({ said: { terms, work, closed }, formats }: Pick<Props, 'said' | 'formats'>) {
  if (work.length + closed.length === 0) return null
  const worked = work.map(({ id, what, unit, weekOn, bay, hours }) => {
    const where = terms?.bays[bay]?.name ?? `bay ${bay + 1}`
    const words = [what, unit].filter(Boolean).join(', ')
    return {
      ...{ id, kind: 'work' as const, what: words },
      line: `${words}: week of ${formats.day(weekOn)}, ${where}, ${hoursWords(hours, formats)}`,
    }
  })
  const away = closed.map(({ id, unit, from, until, why }) => {
    const days = `${formats.day(from)} to ${formats.day(until)}`
    const words = why === 'away' ? `${unit} is away` : `${unit} is not to come`
    return { id, kind: 'closed' as const, what: words, line: `${words}: ${days}` }
  })
  return (
    <ul className={styles.lines}>
      {[...worked, ...away].map(({ id, kind, what, line }) => (
        <li key={id}>
          {line}
          <form action={withdraw.bind(null, kind, id, what)} className={styles.inline}>
            <button type="submit" aria-label={`Take back: ${line}`}>
              Take back
            </button>
          </form>
        </li>
      ))}
    </ul>
  )
}
