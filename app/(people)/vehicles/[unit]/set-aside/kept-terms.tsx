import type { VehicleSetAside } from '@/lib/jobs/set-aside'
import type { Formats } from '../../../../ui/formats'
import { KeptForm } from '../../../../ui/kept-form'
import { coverWords, excludedWords, keptTermsWords, limitWords } from './aside-words'
import { keepTerms, takeTermsBack } from './cover-actions'
import styles from './set-aside.module.css'

type Props = { unit: string; aside: VehicleSetAside; mayKeep: boolean; formats: Formats }

/** The terms that are kept with the vehicle, and those of this page to be kept in their place. */
export function KeptTerms({ unit, aside, mayKeep, formats }: Props) {
  const { cover, coverOf, terms, claimLimit, choices } = aside
  const excluded = choices.flatMap((each) => (each.excluded ? [each.weakPoint] : []))
  // The end of a sold vehicle's cover stands with its sale.
  const given = coverOf === 'vehicle' ? { days: null, km: null } : cover
  return (
    <section className={styles.section} aria-labelledby="terms">
      <h2 id="terms">The terms of its sale</h2>
      <p>{keptTermsWords(aside, formats)}</p>
      {mayKeep && terms !== null && (
        <form action={takeTermsBack.bind(null, terms.id)} className={styles.undo}>
          <button type="submit">Take these terms back</button>
        </form>
      )}
      {mayKeep && (
        <>
          <p>
            On this page: {coverWords(cover, formats)}. {excludedWords(aside)};{' '}
            {limitWords(claimLimit, formats)}.
          </p>
          <KeptForm
            action={keepTerms.bind(null, unit, { ...given, excluded, claimLimit })}
            submit="Keep them with the vehicle"
          />
        </>
      )}
    </section>
  )
}
