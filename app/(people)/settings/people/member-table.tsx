import type { Member } from '@/lib/store/read/members'
import { ROLES } from '@/lib/store/role'
import type { Formats } from '../../../ui/formats'
import { KeptForm, SelectField } from '../../../ui/kept-form'
import { ROLE_WORDS } from '../../../ui/words'
import styles from '../settings.module.css'
import { giveRole, removePerson, signPersonOut } from './people-actions'

const ROLE_OPTIONS = ROLES.map((role) => ({ value: role, label: ROLE_WORDS[role] }))

/** Who belongs to the organisation: what they may do, when they were last here, and how to change that. */
export function MemberTable({ members, me, formats }: { members: Member[]; me: string; formats: Formats }) {
  return (
    <table className={styles.table}>
      <caption className="for-ears">Everybody who belongs to the organisation</caption>
      <thead>
        <tr>
          <th scope="col">Name</th>
          <th scope="col">Comes in</th>
          <th scope="col">Last here</th>
          <th scope="col">Role</th>
          <th scope="col">
            <span className="for-ears">Sign out or remove</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {members.map((member) => (
          <MemberRow key={member.id} {...{ member, formats }} isMe={member.id === me} />
        ))}
      </tbody>
    </table>
  )
}

function MemberRow({
  member: { id, name, mail, role, lastSeenAt },
  isMe,
  formats,
}: {
  member: Member
  isMe: boolean
  formats: Formats
}) {
  return (
    <tr>
      <th scope="row">{name}</th>
      <td>{mail ?? 'at the door of this machine'}</td>
      <td>{lastSeenAt === null ? 'never' : formats.moment(lastSeenAt)}</td>
      <td>
        <KeptForm action={giveRole.bind(null, id)} submit="Change">
          <SelectField name="role" label={`Role of ${name}`} value={role} options={ROLE_OPTIONS} />
        </KeptForm>
      </td>
      <td>
        <div className={styles.acts}>
          {!isMe && <KeptForm action={signPersonOut.bind(null, id, name)} submit={`Sign ${name} out …`} />}
          <KeptForm action={removePerson.bind(null, id, name)} submit={`Remove ${name} …`} />
        </div>
      </td>
    </tr>
  )
}
