import type { ListedInvitation } from '@/lib/store/read/invitations'
import type { Formats } from '../../../ui/formats'
import { ROLE_WORDS } from '../../../ui/words'
import styles from '../settings.module.css'
import { withdrawInvited } from './people-actions'
import { INVITATION_STATES } from './people-words'

type Props = { invitations: ListedInvitation[]; formats: Formats }

/** Who was invited, and what has become of it. */
export function InvitationTable({ invitations, formats }: Props) {
  return (
    <table className={styles.table}>
      <caption className="for-ears">Invitations, those that wait first</caption>
      <thead>
        <tr>
          <th scope="col">Address</th>
          <th scope="col">Role</th>
          <th scope="col">Invited</th>
          <th scope="col">What became of it</th>
          <th scope="col">
            <span className="for-ears">Withdraw</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {invitations.map((invitation) => (
          <InvitationRow key={invitation.id} {...{ invitation, formats }} />
        ))}
      </tbody>
    </table>
  )
}

function InvitationRow({ invitation, formats }: { invitation: ListedInvitation; formats: Formats }) {
  const { id, mail, role, madeByName, madeAt, expiresAt, state, endedAt } = invitation
  const until = state === 'open' ? `until ${formats.moment(expiresAt)}` : formats.moment(endedAt ?? expiresAt)
  return (
    <tr>
      <th scope="row">{mail}</th>
      <td>{ROLE_WORDS[role]}</td>
      <td>
        {formats.moment(madeAt)}
        {madeByName !== null && ` by ${madeByName}`}
      </td>
      <td>
        {INVITATION_STATES[state]} {until}
      </td>
      <td>
        {state === 'open' && (
          <form action={withdrawInvited}>
            <input type="hidden" name="id" value={id} />
            <button type="submit" className={styles.revoke} aria-label={`Withdraw the invitation of ${mail}`}>
              Withdraw
            </button>
          </form>
        )}
      </td>
    </tr>
  )
}
