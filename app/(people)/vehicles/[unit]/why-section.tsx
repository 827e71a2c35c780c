import type { StepTaken } from '@/lib/decisions/why-chance'
import type { VehicleComponent } from '@/lib/store/read/vehicle-components'
import { frequency } from '../../../ui/chance-words'
import type { Formats } from '../../../ui/formats'
import { CHANCE_STEPS, horizonWords, placeWords } from '../../../ui/words'
import type { Why } from './read-why'
import { StepWalk, WalkScale } from './step-walk'
import styles from './why.module.css'
import { stepWords, type Told, whySentence } from './why-words'
import { WithoutRecords } from './without-records'

type Props = Omit<Told, 'why'> & {
  why: Why
  component: VehicleComponent
  family: Parameters<typeof WithoutRecords>[0]['family']
  page: string
}

/** Why the chance is what it is: the steps from the library to this vehicle, and what each record does to it. */
export function WhySection({ component, family, page, ...told }: Props) {
  const { why, formats } = told
  const score = why.steps.at(-1)?.chance ?? 0
  return (
    <section className={styles.why}>
      <h3>Why this chance</h3>
      <p className={styles.lead}>{whySentence(told)}</p>
      {score !== component.pFail && (
        <p className={styles.soft}>
          Reckoned just now; the chance in the row above follows within the minute.
        </p>
      )}
      <div className={styles.scale} aria-hidden="true">
        <span className={styles.key}>○ before the step, ● after it</span>
        <WalkScale />
      </div>
      <ol className={styles.steps}>
        {why.steps.map((taken) => (
          <Step key={taken.step} taken={taken} told={told} />
        ))}
      </ol>
      <p className={styles.soft}>
        {score === component.pFail ? 'The last is the chance in the row above, within' : 'All within'}{' '}
        {horizonWords(why.horizonDays)}. Every figure is reckoned as the score is, with what comes later left
        out.
      </p>
      <StepNumbers steps={why.steps} name={nameOf(component)} formats={formats} />
      <WithoutRecords {...{ why, component, family, page, formats }} />
    </section>
  )
}

const nameOf = ({ name, place, position }: VehicleComponent) =>
  [name, placeWords(place, position)].filter(Boolean).join(', ')

function Step({ taken, told }: { taken: StepTaken; told: Told }) {
  const { before, chance } = taken
  const words = frequency(chance, told.formats.count)
  const isSame = before !== null && frequency(before, told.formats.count) === words
  return (
    <li>
      <span className={styles.what}>{stepWords(taken, told)}:</span>
      <StepWalk from={before} to={chance} />
      <data className={styles.chance} value={chance}>
        {isSame && 'still '}
        {words}
      </data>
    </li>
  )
}

function StepNumbers({ steps, name, formats }: { steps: StepTaken[]; name: string; formats: Formats }) {
  return (
    <details className={styles.numbers}>
      <summary>The steps in numbers</summary>
      <table>
        <caption className="for-ears">{name}: the steps to its chance</caption>
        <thead>
          <tr>
            <th scope="col">Step</th>
            <th scope="col">Chance after it</th>
            <th scope="col">What it adds</th>
          </tr>
        </thead>
        <tbody>
          {steps.map(({ step, chance, change }) => (
            <tr key={step}>
              <th scope="row">{CHANCE_STEPS[step]}</th>
              <td>
                <data value={chance}>{formats.percent(chance)}</data>
              </td>
              <td>
                <data value={change}>{formats.signedPercent(change)}</data>
              </td>
            </tr>
          ))}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row">Together</th>
            <td />
            <td>
              <data value={steps.at(-1)?.chance}>{formats.percent(steps.at(-1)?.chance ?? 0)}</data>
            </td>
          </tr>
        </tfoot>
      </table>
    </details>
  )
}
