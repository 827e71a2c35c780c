import type { Member } from '@/lib/store/read/members'
import { ROLE_WORDS } from '../../ui/words'
import styles from './settings.module.css'

/** Who belongs to the organisation, and what they may do. */
export function Members({ members }: { members: Member[] }) {
  return (
    <table className={styles.table}>
      <caption className="for-ears">Everybody who belongs to the organisation</caption>
      <thead>
        <tr>
          <th scope="col">Name</th>
          <th scope="col">Role</th>
          <th scope="col">Comes in</th>
        </tr>
      </thead>
      <tbody>
        {members.map(({ id, name, mail, role }) => (
          <tr key={id}>
            <th scope="row">{name}</th>
            <td>{ROLE_WORDS[role]}</td>
            <td>{mail ?? 'at the door of this machine'}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
