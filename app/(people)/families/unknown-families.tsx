import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import { ADVICE } from '../../ui/words'
import { ENGINE_NOT_KNOWN } from '../new-vehicle/engine-not-known'
import styles from './families.module.css'
import { starterFor } from './new/starter-address'
import { STARTER } from './new/starter-words'

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
            <strong>{key === ENGINE_NOT_KNOWN ? 'Nobody has said which' : key}</strong>,{' '}
            {formats.count(vehicles)} vehicle{vehicles === 1 ? '' : 's'}:{' '}
            {key === ENGINE_NOT_KNOWN ? (
              'say it on the page of each, under “change”'
            ) : (
              <StateIt engine={key} />
            )}
          </li>
        ))}
      </ul>
    </section>
  )
}

function StateIt({ engine }: { engine: string }) {
  return (
    <>
      <Link href={starterFor(engine)}>{lowerFirst(STARTER)}</Link>, or{' '}
      <Link href={`/families/new?family=${encodeURIComponent(engine)}`}>state what is known of it</Link>
    </>
  )
}

const lowerFirst = (text: string) => text.charAt(0).toLowerCase() + text.slice(1)
