import type { PersonWithoutPassword } from '@/lib/store/read/people-without-password'
import { enter } from '../actions'
import styles from './door.module.css'

type Props = { people: PersonWithoutPassword[]; from: string }

/** People whom one may come in as: one press each. */
export function PersonCards({ people, from }: Props) {
  return (
    <ul className={styles.cards}>
      {people.map(({ id, name, title, decides }) => (
        <li key={id}>
          <form action={enter}>
            <input type="hidden" name="person" value={id} />
            <input type="hidden" name="from" value={from} />
            <button type="submit" className={styles.card}>
              <strong>{name}</strong>
              {title !== null && <span className={styles.title}>{title}</span>}
              {decides !== null && <span>{decides}</span>}
            </button>
          </form>
        </li>
      ))}
    </ul>
  )
}
