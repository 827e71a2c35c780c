import type { Family } from '@/lib/records/library'
import type { FamilyFit } from '@/lib/scoring/family-fit'
import { learnedSigns } from '@/lib/scoring/learned-signs'
import type { Formats } from '../../../ui/formats'
import { TwinLinks } from '../../../ui/twin-links'
import { twinBelow } from '../../twins/twin-address'
import styles from '../families.module.css'
import { learnedSignsSentence, looksOf } from '../sign-rate-words'

type Props = { family: Family; fit: FamilyFit | null; formats: Formats }

/**
 * Signs by weak points: how often each sign is seen while that part goes, and how often without any cause, as stated
 * and as learned.
 */
export function SignMatrix({ family, fit, formats }: Props) {
  const { signs, weakPoints } = family
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
  const rates = learnedSigns(family, fit?.signs ?? new Map())
  const learnedOf = (sign: string, cause: string | null) =>
    rates.find((rate) => rate.sign === sign && rate.weakPoint === cause)?.learned ?? null
  return (
    <section id="signs" className={styles.signs} aria-labelledby="signs-title">
      <h2 id="signs-title">Signs, and how often each is seen when a part is going</h2>
      <p>
        Each figure says in how many looks for a sign it is seen.{' '}
        {learnedSignsSentence(family, rates, formats)}
      </p>
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
                      {detect !== undefined && (
                        <Rate stated={detect} learned={learnedOf(key, weakPoint.key)} formats={formats} />
                      )}
                    </td>
                  )
                })}
                <td>
                  <Rate stated={leak} learned={learnedOf(key, null)} formats={formats} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <p>
        <TwinLinks csv={twinBelow(`/families/${encodeURIComponent(family.key)}`, 'signs')} of="these signs" />
      </p>
      {silent.length > 0 && (
        <p>
          No sign shows: {silent.map(({ component }) => component).join(', ')}. Only distance speaks for them.
        </p>
      )}
    </section>
  )
}

/** A rate as stated, and below it as learned where it was. */
function Rate({ stated, learned, formats }: { stated: number; learned: number | null; formats: Formats }) {
  const [said, found] = looksOf(learned === null ? [stated] : [stated, learned], formats)
  return (
    <>
      <data value={stated}>{said}</data>
      {learned !== null && (
        <span className={styles.learnedRate}>
          learned: <data value={learned}>{found === said ? 'about the same' : found}</data>
        </span>
      )}
    </>
  )
}
