import { TextField } from './kept-form'

/** The mail address by which somebody signs in. */
export function MailField() {
  return (
    <TextField name="mail" label="Mail address" type="email" autoComplete="username" spellCheck={false} />
  )
}

/** A password that is chosen now. */
export function NewPasswordField({ label = 'Password' }: { label?: string }) {
  return (
    <TextField
      name="password"
      label={label}
      hint="At least 12 characters. A few words that belong to nothing else are good."
      type="password"
      autoComplete="new-password"
    />
  )
}
