import type { Metadata } from 'next'
import { readBegunTakings, readTakenFamilies } from '@/lib/store/read/family-takings'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'
import { requirePerson } from '../../../require-person'
import { formatsFor } from '../../../ui/formats'
import { Frame } from '../../../ui/frame'
import { KeptForm } from '../../../ui/kept-form'
import { Link } from '../../../ui/link'
import { TAKE_IN } from '../../../ui/page-words'
import styles from '../families.module.css'
import { bringFile } from './actions'
import { takingAddress } from './taking-address'

export const metadata: Metadata = { title: TAKE_IN }

/** The beginning of taking in a family: the file; or going on with one that was begun. */
export default async function TakeInPage() {
  const { database, organisation } = await requirePerson('edit-library')
  const { terms, begun, taken } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    begun: await readBegunTakings(scope),
    taken: await readTakenFamilies(scope),
  }))
  const formats = formatsFor(terms, terms.distance)
  const on = (at: Date) => formats.day(dayIn(terms.timeZone, at))
  return (
    <Frame here="families" asOf={null} choices={[]}>
      <p className={styles.back}>
        <Link href="/families">Engine families</Link>
      </p>
      <h1 className={styles.title}>{TAKE_IN}</h1>
      <p className={styles.lead}>
        One engine of somebody else’s library file: added where you have none of it, merged with what you
        state yourselves where you have. You see what would change before it comes into force. The prices of
        their file stay with them: what an hour, a visit and a day off the road cost is said in your own
        settings alone.
      </p>
      <section className={styles.step} aria-labelledby="file">
        <h2 id="file">The file</h2>
        <KeptForm action={bringFile} submit="Read it">
          <div>
            <label htmlFor="library-file">A library file</label>
            <p className={styles.soft}>A .json file, as “Share this engine” makes it, or a whole library.</p>
            <input id="library-file" type="file" name="file" accept=".json,application/json" required />
          </div>
        </KeptForm>
      </section>
      {begun.length > 0 && (
        <section className={styles.step} aria-labelledby="begun">
          <h2 id="begun">Begun and not in force yet</h2>
          <ul>
            {begun.map(({ id, source, madeAt, madeBy }) => (
              <li key={id}>
                <Link href={takingAddress(id)}>Go on with “{source}”</Link>, {on(madeAt)}
                {madeBy !== null && `, ${madeBy}`}
              </li>
            ))}
          </ul>
        </section>
      )}
      {taken.length > 0 && (
        <section className={styles.step} aria-labelledby="taken">
          <h2 id="taken">Taken in before</h2>
          <ul>
            {taken.map(({ key, source, takenAt, takenBy, libraryVersion }) => (
              <li key={`${key} ${libraryVersion}`}>
                <Link href={`/families/${encodeURIComponent(key)}`}>{key}</Link> from “{source}”,{' '}
                {on(takenAt)}
                {takenBy !== null && `, ${takenBy}`}, in version {formats.count(libraryVersion)} of the
                library
              </li>
            ))}
          </ul>
        </section>
      )}
    </Frame>
  )
}
