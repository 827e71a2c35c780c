import { Link } from '../../../../../ui/link'
import styles from '../../../families.module.css'
import { changeFamily } from '../../../new/actions'

type Props = {
  familyKey: string
  /** Of work on the weak point, as stated. */
  hours: number
  mayChange: boolean
}

/** Why intervals cannot be weighed, and where what is missing is stated. */
export function NoPrice({ familyKey, hours, mayChange }: Props) {
  return (
    <>
      <p>
        No cost of the job is stated, so that intervals cannot be weighed.{' '}
        {hours > 0 && (
          <>
            Its hours are, but not what an hour of labour costs: that is under{' '}
            <Link href="/settings">Settings</Link>.
          </>
        )}
      </p>
      {mayChange && (
        <form action={changeFamily.bind(null, familyKey)} className={styles.acts}>
          <button type="submit" className={styles.act}>
            Change what is stated
          </button>
        </form>
      )}
    </>
  )
}
