import type { Family } from '@/lib/records/library'
import { frequency } from '../../../ui/chance-words'
import type { Formats } from '../../../ui/formats'
import styles from '../families.module.css'

type Props = { family: Family; formats: Formats }

/** Signs by weak points: how often each sign is seen while that part goes, and how often without any cause. */
export function SignMatrix({ family: { signs, weakPoints }, formats }: Props) {
  if (signs.length === 0)
    return (
      <section id="signs" className={styles.signs}>
        <h2>Signs</h2>
        <p>None are described. Every chance of this engine rests on distance and repairs alone.</p>
      </section>
    )
  const shown = weakPoints.filter(({ key }) =>
    signs.some(({ causes }) => causes.some(({ weakPoint }) => weakPoint === key)),
  )
  const silent = weakPoints.filter((weakPoint) => !shown.includes(weakPoint))
  return (
    <section id="signs" className={styles.signs} aria-labelledby="signs-title">
      <h2 id="signs-title">Signs, and how often each is seen when a part is going</h2>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keyboard */}
      <section className={styles.scrolls} aria-label="Signs by weak points" tabIndex={0}>
        <table className={styles.matrix}>
          <thead>
            <tr>
              <th scope="col">Sign</th>
              {shown.map(({ key, component }) => (
                <th key={key} scope="col">
                  {component}
                </th>
              ))}
              <th scope="col">Shows without cause</th>
            </tr>
          </thead>
          <tbody>
            {signs.map(({ key, label, causes, leak }) => (
              <tr key={key}>
                <th scope="row">{label}</th>
                {shown.map((weakPoint) => {
                  const detect = causes.find((cause) => cause.weakPoint === weakPoint.key)?.detect
                  return (
                    <td key={weakPoint.key}>
                      {detect !== undefined && <data value={detect}>{frequency(detect, formats.count)}</data>}
                    </td>
                  )
                })}
                <td>
                  <data value={leak}>{frequency(leak, formats.count)}</data>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      {silent.length > 0 && (
        <p>
          No sign shows: {silent.map(({ component }) => component).join(', ')}. Only distance speaks for them.
        </p>
      )}
    </section>
  )
}
