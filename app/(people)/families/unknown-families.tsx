import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import { ADVICE } from '../../ui/words'
import styles from './families.module.css'

/** Engines that vehicles name and the library does not know: silence about them is not good news. */
export function UnknownFamilies({
  unknown,
  formats,
}: {
  unknown: readonly (readonly [key: string, vehicles: number])[]
  formats: Formats
}) {
  if (unknown.length === 0) return null
  return (
    <section className={styles.unknown} aria-labelledby="unknown">
      <h2 id="unknown">Engines that nobody has described</h2>
      <p>
        Vehicles with these are <em>{ADVICE['not-assessed']}</em>: nothing is known of them, good or bad.
      </p>
      <ul>
        {unknown.map(([key, vehicles]) => (
          <li key={key}>
            <strong>{key}</strong>, {formats.count(vehicles)} vehicle{vehicles === 1 ? '' : 's'}:{' '}
            <Link href={`/families/new?family=${encodeURIComponent(key)}`}>state what is known of it</Link>
          </li>
        ))}
      </ul>
    </section>
  )
}
