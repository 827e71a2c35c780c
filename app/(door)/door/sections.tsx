import { MailField, NewPasswordField } from '../../ui/account-fields'
import { KeptForm, TextField } from '../../ui/kept-form'
import { Link } from '../../ui/link'
import { OrganisationFields } from '../../ui/organisation-fields'
import { signIn, startAsFirstOwner, startByPress } from '../actions'
import { proposedTerms } from '../proposed-terms'
import styles from './door.module.css'

export function SignInSection({ from }: { from: string }) {
  return (
    <section aria-labelledby="sign-in">
      <h2 id="sign-in">Sign in</h2>
      <KeptForm action={signIn} submit="Sign in">
        <input type="hidden" name="from" value={from} />
        <MailField />
        <TextField name="password" label="Password" type="password" autoComplete="current-password" />
      </KeptForm>
      <p className={styles.note}>
        <Link href="/door/forgot">Forgot it?</Link>
      </p>
    </section>
  )
}

type StartProps = { start: 'by-press' | 'as-first-owner'; acceptLanguage: string | null }

/** An organisation of one's own: by a name alone on this machine; on a server its owner has mail and password. */
export function StartSection({ start, acceptLanguage }: StartProps) {
  const { locale, timeZone, distance } = proposedTerms(acceptLanguage)
  const first = start === 'as-first-owner'
  return (
    <section aria-labelledby="start">
      <h2 id="start">Start an organisation of your own</h2>
      <p className={styles.note}>
        {first
          ? 'Nobody owns this installation yet. Whoever fills this in becomes its first owner.'
          : 'It begins empty and stays on this machine; nothing is sent anywhere.'}
      </p>
      <KeptForm action={first ? startAsFirstOwner : startByPress} submit="Start it">
        <OrganisationFields distance={distance} />
        <TextField name="owner" label="Your name" hint="What you record carries it." autoComplete="name" />
        {first && <MailField />}
        {first && <NewPasswordField />}
        <input type="hidden" name="locale" value={locale} />
        <input type="hidden" name="timeZone" value={timeZone} />
      </KeptForm>
    </section>
  )
}
