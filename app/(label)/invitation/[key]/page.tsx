import type { Metadata } from 'next'
import { headers } from 'next/headers'
import { type OpenInvitation, openInvitation } from '@/lib/people/invitations'
import { readOwnAccount } from '@/lib/people/own-account'
import { productDatabase } from '@/lib/store/product-database'
import { NewPasswordField } from '../../../ui/account-fields'
import { KeptForm, TextField } from '../../../ui/kept-form'
import { Link } from '../../../ui/link'
import { ROLE_WORDS } from '../../../ui/words'
import styles from '../../q/[key]/driver.module.css'
import { join, joinSignedIn } from './actions'
import { INVITATION_TITLE, NOT_JOINED } from './invitation-words'

type Props = { params: Promise<{ key: string }> }

export const metadata: Metadata = { title: INVITATION_TITLE, robots: { index: false, follow: false } }

/** Where an invitation leads: to an account of one's own, or with the one that there is into the organisation. */
export default async function InvitationPage({ params }: Props) {
  const { key } = await params
  const [database, now] = [await productDatabase(), new Date()]
  const opened = await openInvitation(database, key, now)
  if (!opened.ok)
    return (
      <main className={styles.page}>
        <h1>{NOT_JOINED[opened.reason]}</h1>
        <p>
          <Link href="/door">To the door</Link>
        </p>
      </main>
    )
  const { organisationName, madeByName, role, mail } = opened.invitation
  const present = await readOwnAccount(database, { headers: await headers(), now })
  return (
    <main className={styles.page}>
      <h1>
        {INVITATION_TITLE} {organisationName}
      </h1>
      <p>
        {madeByName ?? 'Somebody'} invites you as {ROLE_WORDS[role]}. You will sign in with {mail}.
      </p>
      <WayIn invitation={opened.invitation} presentMail={present?.mail ?? null} keyOfLink={key} />
    </main>
  )
}

type WayInProps = { invitation: OpenInvitation; presentMail: string | null; keyOfLink: string }

function WayIn({ invitation: { mail, hasAccount }, presentMail, keyOfLink }: WayInProps) {
  if (!hasAccount)
    return (
      <KeptForm action={join.bind(null, keyOfLink)} submit={INVITATION_TITLE}>
        <TextField name="name" label="Your name" hint="What you record carries it." autoComplete="name" />
        <NewPasswordField />
      </KeptForm>
    )
  if (presentMail === mail)
    return <KeptForm action={joinSignedIn.bind(null, keyOfLink)} submit={INVITATION_TITLE} />
  return (
    <p>
      {presentMail !== null && `${NOT_JOINED['somebody-else']} `}
      <Link href={`/door?from=${encodeURIComponent(`/invitation/${keyOfLink}`)}`}>Sign in as {mail}</Link>
    </p>
  )
}
