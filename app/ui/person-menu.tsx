import type { PresentPerson } from '@/lib/people/session'
import { chooseOrganisation, signOut } from '../(door)/actions'
import { Link } from './link'
import { YOU } from './page-words'
import styles from './person-menu.module.css'

/** Who is here, their other organisations, and the way out. */
export function PersonMenu({ present }: { present: PresentPerson }) {
  const { person, organisation: here, memberships } = present
  const others = memberships.filter(({ organisation }) => organisation !== here)
  return (
    <details className={styles.menu}>
      <summary>{person.name}</summary>
      <div className={styles.list}>
        {others.map(({ organisation, organisationName }) => (
          <form key={organisation} action={chooseOrganisation}>
            <input type="hidden" name="organisation" value={organisation} />
            <button type="submit">Go to {organisationName}</button>
          </form>
        ))}
        <Link href="/settings/you">{YOU}</Link>
        <form action={signOut}>
          <button type="submit">Sign out</button>
          <button type="submit" name="everywhere" value="yes">
            Sign out everywhere
          </button>
        </form>
      </div>
    </details>
  )
}
