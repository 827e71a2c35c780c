import type { Metadata } from 'next'
import { readInvitations } from '@/lib/store/read/invitations'
import { readMembers } from '@/lib/store/read/members'
import { readTerms } from '@/lib/store/read/terms'
import { ROLES } from '@/lib/store/role'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../require-person'
import { formatsFor } from '../../../ui/formats'
import { Frame } from '../../../ui/frame'
import { KeptForm, SelectField, TextField } from '../../../ui/kept-form'
import { PEOPLE } from '../../../ui/page-words'
import { ROLE_WORDS } from '../../../ui/words'
import styles from '../settings.module.css'
import { InvitationTable } from './invitation-table'
import { MemberTable } from './member-table'
import { invitePerson } from './people-actions'
import { INVITING } from './people-words'

export const metadata: Metadata = { title: PEOPLE }

/** Who belongs to the organisation and who is asked to: for its owners. */
export default async function PeoplePage() {
  const { database, organisation, person } = await requirePerson('manage-people')
  const { terms, members, invitations } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    members: await readMembers(scope),
    invitations: await readInvitations(scope, new Date()),
  }))
  const formats = formatsFor(terms, terms.distance)
  return (
    <Frame here="settings" asOf={null} choices={[]}>
      <h1 className={styles.title}>{PEOPLE}</h1>
      <div className={styles.sections}>
        <section aria-labelledby="members">
          <h2 id="members">Who belongs</h2>
          <MemberTable {...{ members, formats }} me={person.id} />
        </section>
        <section aria-labelledby="invite">
          <h2 id="invite">Invite somebody</h2>
          <p className={styles.note}>{INVITING}</p>
          <KeptForm action={invitePerson} submit="Invite">
            <TextField name="mail" label="Mail address" type="email" autoComplete="off" spellCheck={false} />
            <SelectField
              name="role"
              label="What they may do"
              value="technician"
              options={ROLES.map((role) => ({ value: role, label: ROLE_WORDS[role] }))}
            />
          </KeptForm>
        </section>
        {invitations.length > 0 && (
          <section aria-labelledby="invitations">
            <h2 id="invitations">Invitations</h2>
            <InvitationTable {...{ invitations, formats }} />
          </section>
        )}
      </div>
    </Frame>
  )
}
