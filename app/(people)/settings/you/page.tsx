import type { Metadata } from 'next'
import { headers } from 'next/headers'
import { readOwnAccount } from '@/lib/people/own-account'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../../require-person'
import { NewPasswordField } from '../../../ui/account-fields'
import { formatsFor } from '../../../ui/formats'
import { Frame } from '../../../ui/frame'
import { KeptForm, TextField } from '../../../ui/kept-form'
import { YOU } from '../../../ui/page-words'
import styles from '../settings.module.css'
import { SessionTable } from './session-table'
import { changeName, changePassword } from './you-actions'
import { YOU_WORDS } from './you-words'

export const metadata: Metadata = { title: YOU }

type Props = { searchParams: Promise<{ password?: string | string[] }> }

/** Whoever is signed in: name, password, and where they are signed in. */
export default async function YouPage({ searchParams }: Props) {
  const { database, organisation } = await requirePerson()
  const account = await readOwnAccount(database, { headers: await headers(), now: new Date() })
  const terms = await withOrganisation(database, organisation, readTerms)
  const formats = formatsFor(terms, terms.distance)
  const isChanged = (await searchParams).password === 'changed'
  return (
    <Frame here="settings" asOf={null} choices={[]}>
      <h1 className={styles.title}>{YOU}</h1>
      <div className={styles.sections}>
        <section aria-labelledby="name">
          <h2 id="name">Your name</h2>
          <KeptForm action={changeName} submit="Keep it">
            <TextField
              name="name"
              label="Name"
              hint={YOU_WORDS.name}
              value={account?.name ?? ''}
              autoComplete="name"
            />
          </KeptForm>
        </section>
        {account?.mail && (
          <section aria-labelledby="password">
            <h2 id="password">Your password</h2>
            {isChanged && <p role="status">{YOU_WORDS.passwordKept}</p>}
            <p className={styles.note}>You sign in with {account.mail}.</p>
            <KeptForm action={changePassword} submit="Change it">
              <TextField
                name="current-password"
                label="Password until now"
                type="password"
                autoComplete="current-password"
              />
              <NewPasswordField label="New password" />
            </KeptForm>
          </section>
        )}
        <section aria-labelledby="sessions">
          <h2 id="sessions">Your sessions</h2>
          <p className={styles.note}>{YOU_WORDS.sessions}</p>
          <SessionTable mail={account?.mail ?? null} sessions={account?.sessions ?? []} formats={formats} />
        </section>
      </div>
    </Frame>
  )
}
