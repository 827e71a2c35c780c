import type { Metadata } from 'next'
import { missingForMail } from '@/lib/jobs/mail-set-up'
import { MailField } from '../../../ui/account-fields'
import { KeptForm } from '../../../ui/kept-form'
import { Link } from '../../../ui/link'
import { sendReset } from '../../reset-actions'
import { RESET_WORDS } from '../../reset-words'
import styles from '../door.module.css'

export const metadata: Metadata = { title: RESET_WORDS.title }

/** For whoever has forgotten their password. */
export default function ForgotPage() {
  const canSend = missingForMail(process.env).length === 0
  return (
    <main className={styles.door}>
      <section aria-labelledby="forgot">
        <h1 id="forgot">{RESET_WORDS.title}</h1>
        {canSend ? (
          <>
            <p className={styles.note}>{RESET_WORDS.lead}</p>
            <KeptForm action={sendReset} submit={RESET_WORDS.send}>
              <MailField />
            </KeptForm>
          </>
        ) : (
          <>
            <p className={styles.note}>{RESET_WORDS.noMail}</p>
            <p>
              <code>npm run reset-password -- --mail you@example.com</code>
            </p>
          </>
        )}
        <p className={styles.note}>
          <Link href="/door">Back to the door</Link>
        </p>
      </section>
    </main>
  )
}

/** What the environment says is read when somebody asks, not when this is built. */
export const dynamic = 'force-dynamic'
