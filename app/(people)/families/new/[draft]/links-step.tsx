import { KeptForm, SelectField } from '../../../../ui/kept-form'
import styles from '../../families.module.css'
import { STRENGTHS } from '../choices'
import { keepLink, removeLink } from '../step-actions'
import { TakeOut } from './take-out'
import type { Stated } from './weak-points-step'

/** What damages what: stated links, and one more. */
export function LinksStep({ id, family: { weakPoints, upstream = [] }, formats }: Stated) {
  const options = weakPoints.map(({ key, component }) => ({ value: key, label: component }))
  const nameOf = (key: string) => options.find(({ value }) => value === key)?.label ?? key
  return (
    <section className={styles.step} aria-labelledby="links">
      <h2 id="links">What damages what is below</h2>
      <ul>
        {upstream.map(({ from, to, strength }) => (
          <li key={`${from} ${to}`} className={styles.link}>
            <span>
              While {nameOf(from)} goes, {nameOf(to)} ages {formats.decimal(strength)} times as fast.
            </span>
            <TakeOut action={removeLink.bind(null, id, { from, to })}>
              <button type="submit" className={styles.small}>
                Take out
                <span className="for-ears">
                  : {nameOf(from)} damages {nameOf(to)}
                </span>
              </button>
            </TakeOut>
          </li>
        ))}
      </ul>
      <KeptForm action={keepLink.bind(null, id)} submit="Keep this">
        <SelectField name="from" label="While this part goes" options={options} />
        <SelectField name="to" label="this one ages faster" options={options} value={options[1]?.value} />
        <SelectField name="strength" label="How much faster" options={STRENGTHS} value="2" />
      </KeptForm>
    </section>
  )
}
