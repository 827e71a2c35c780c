import type { Intake } from '@/lib/store/read/intake'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import { TwinLinks } from '../../ui/twin-links'
import styles from './intake.module.css'
import { Scrolls } from './scrolls'
import { stateWords } from './words'

type Props = { intakes: Intake[]; formats: Formats }

/** What was brought in before: who, when, how much, and where it stands. */
export function PastIntakes({ intakes, formats }: Props) {
  return (
    <section className={styles.section} aria-labelledby="past">
      <h2 id="past">Brought in before</h2>
      <Scrolls label="What was brought in before">
        <table className={styles.table}>
          <thead>
            <tr>
              <th scope="col">When</th>
              <th scope="col">Who</th>
              <th scope="col">Files</th>
              <th scope="col">New</th>
              <th scope="col">In another’s place</th>
              <th scope="col">There already</th>
              <th scope="col">Refused</th>
              <th scope="col">State</th>
            </tr>
          </thead>
          <tbody>
            {intakes.map((intake) => (
              <tr key={intake.id}>
                <th scope="row">
                  <Link href={`/intake/${intake.id}`}>{formats.moment(intake.madeAt)}</Link>
                </th>
                <td>{intake.by ?? ''}</td>
                <td>{intake.files.map(({ name }) => name).join(', ')}</td>
                {(['accepted', 'superseded', 'unchanged', 'rejected'] as const).map((count) => (
                  <td key={count} className={styles.number}>
                    {intake.summary && formats.count(sum(intake.summary.files.map((file) => file[count])))}
                  </td>
                ))}
                <td>{stateWords(intake)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scrolls>
      <p>
        <TwinLinks csv="/intake.csv" of="what was brought in before" />
      </p>
    </section>
  )
}

const sum = (numbers: number[]) => numbers.reduce((total, each) => total + each, 0)
