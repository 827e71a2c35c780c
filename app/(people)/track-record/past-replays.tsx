import type { PastReplay } from '@/lib/store/read/track-record'
import type { Formats } from '../../ui/formats'
import styles from './track-record.module.css'

type Props = { history: PastReplay[]; formats: Formats }

/** Every time that it was looked back, and what came out. */
export function PastReplays({ history, formats }: Props) {
  return (
    <section aria-labelledby="past">
      <h2 id="past">Looked back before</h2>
      <ol className={styles.past}>
        {history.map(({ id, madeAt, libraryVersion, expected, observed, imputed }) => (
          <li key={id}>
            {formats.moment(madeAt)}, library version {libraryVersion}: expected to found{' '}
            {ratioWords(expected, observed + imputed, formats)}.{' '}
            <a href={`/track-record.json?replay=${id}`} download>
              Take it along as a file
            </a>
          </li>
        ))}
      </ol>
    </section>
  )
}

const ratioWords = (expected: number, found: number, formats: Formats) =>
  found > 0 ? `as ${formats.precise(expected / found)} to 1` : 'nothing was found'
