import type { Metadata } from 'next'
import { KeptForm } from '../../../ui/kept-form'
import styles from '../../q/[key]/driver.module.css'
import { stopMails } from './actions'

type Props = { params: Promise<{ key: string }> }

export const metadata: Metadata = { title: 'Stop the mails', robots: { index: false, follow: false } }

/** Where the link in a mail leads: one press stops them, without signing in. */
export default async function UnsubscribePage({ params }: Props) {
  const { key } = await params
  return (
    <main className={styles.page}>
      <h1>No more mails with the week?</h1>
      <KeptForm action={stopMails.bind(null, key)} submit="Stop them" />
    </main>
  )
}
