import type { WeakPoint } from '@/lib/records/library'
import type { StatedLife } from '@/lib/scoring/stated-life'
import { frequency } from '../../../ui/chance-words'
import type { Formats } from '../../../ui/formats'
import { clockAmount } from '../amounts'
import styles from '../families.module.css'
import { curveSentence } from '../sentences'

type Props = { weakPoint: WeakPoint; life: StatedLife; formats: Formats }

/** Every so many points of the curve stand in the table behind it. */
const TABLE_STEP = 4

/** The stated life of a new part as a curve with its band, the finding in a sentence, the numbers in a table. */
export function LifeCurve({ weakPoint, life, formats }: Props) {
  const { clock, component } = weakPoint
  const told = life.curve.filter((_, i) => i > 0 && i % TABLE_STEP === 0)
  return (
    <figure className={styles.curve}>
      <figcaption>{curveSentence(life, weakPoint, formats)}</figcaption>
      <details>
        <summary>The numbers</summary>
        <table className={styles.numbers}>
          <caption className="for-ears">{component}: chances of a new part by age</caption>
          <thead>
            <tr>
              <th scope="col">By</th>
              <th scope="col">Has begun to go</th>
              <th scope="col">Has failed</th>
              <th scope="col">Between</th>
            </tr>
          </thead>
          <tbody>
            {told.map(({ age, pStarted, pFail, pLow, pHigh }) => (
              <tr key={age}>
                <th scope="row">{clockAmount(age, clock, formats)}</th>
                <td>
                  <data value={pStarted}>{frequency(pStarted, formats.count)}</data>
                </td>
                <td>
                  <data value={pFail}>{frequency(pFail, formats.count)}</data>
                </td>
                <td>
                  {frequency(pLow, formats.count)} and {frequency(pHigh, formats.count)}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </figure>
  )
}
