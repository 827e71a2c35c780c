import type { Formats } from '../../../ui/formats'
import { Link } from '../../../ui/link'
import { ADVICE, NO_SUCH_ENGINE } from '../../../ui/words'
import styles from '../families.module.css'
import { starterFor } from '../new/starter-address'
import { STARTER } from '../new/starter-words'

/** An engine that vehicles name and the library does not know. */
export function NotDescribed({
  family,
  vehicles,
  formats,
}: {
  family: string
  vehicles: number
  formats: Formats
}) {
  return (
    <>
      <h1 className={styles.title}>{family}</h1>
      <p className={styles.lead}>
        {NO_SUCH_ENGINE} {formats.count(vehicles)} vehicle{vehicles === 1 ? ' names' : 's name'} it and{' '}
        {vehicles === 1 ? 'is' : 'are'} <em>{ADVICE['not-assessed']}</em>.
      </p>
      <p className={styles.acts}>
        <Link className={styles.act} href={starterFor(family)}>
          {STARTER}
        </Link>{' '}
        <Link className={styles.act} href={`/families/new?family=${encodeURIComponent(family)}`}>
          State what is known of it
        </Link>
      </p>
    </>
  )
}
