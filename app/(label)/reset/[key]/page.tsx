import type { Metadata } from 'next'
import { isResetOpen } from '@/lib/people/password-reset'
import { productDatabase } from '@/lib/store/product-database'
import { RESET_WORDS } from '../../../(door)/reset-words'
import { NewPasswordField } from '../../../ui/account-fields'
import { KeptForm } from '../../../ui/kept-form'
import { Link } from '../../../ui/link'
import styles from '../../q/[key]/driver.module.css'
import { chooseNewPassword } from './actions'

type Props = { params: Promise<{ key: string }> }

export const metadata: Metadata = { title: RESET_WORDS.title, robots: { index: false, follow: false } }

/** Where the link in the mail leads: a new password, without signing in. */
export default async function ResetPage({ params }: Props) {
  const { key } = await params
  const isOpen = await isResetOpen(await productDatabase(), key, new Date())
  return (
    <main className={styles.page}>
      <h1>{RESET_WORDS.choose}</h1>
      {isOpen ? (
        <KeptForm action={chooseNewPassword.bind(null, key)} submit={RESET_WORDS.keep}>
          <NewPasswordField label="New password" />
        </KeptForm>
      ) : (
        <p>
          {RESET_WORDS.gone} <Link href="/door/forgot">Ask for another</Link>
        </p>
      )}
    </main>
  )
}
