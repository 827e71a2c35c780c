import type { OwnAccount } from '@/lib/people/own-account'
import type { Formats } from '../../../ui/formats'
import { KeptForm, SelectField, TextField } from '../../../ui/kept-form'
import styles from '../settings.module.css'
import { endSessions } from './you-actions'
import { ALL_OTHERS, YOU_WORDS } from './you-words'

type Props = Pick<OwnAccount, 'mail' | 'sessions'> & { formats: Formats }

/** Where somebody is signed in, and the form that ends a session elsewhere: whoever has a password is asked for it. */
export function SessionTable({ mail, sessions, formats }: Props) {
  const told = sessions.map(({ browser, since, ...session }) => ({
    ...session,
    browser: browser || YOU_WORDS.unknownBrowser,
    since: formats.moment(since),
  }))
  const others = told
    .filter(({ isThis }) => !isThis)
    .map(({ id, browser, since }) => ({ value: id, label: `${browser}, since ${since}` }))
  return (
    <>
      <table className={styles.table}>
        <caption className="for-ears">Your sessions, the latest first</caption>
        <thead>
          <tr>
            <th scope="col">Browser</th>
            <th scope="col">Since</th>
            <th scope="col">
              <span className="for-ears">Which</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {told.map(({ id, browser, since, isThis }) => (
            <tr key={id}>
              <th scope="row">{browser}</th>
              <td>{since}</td>
              <td>{isThis && 'this one'}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <KeptForm action={endSessions} submit={others.length > 0 ? 'End it' : null}>
        {others.length > 0 && (
          <SelectField
            name="session"
            label="Session to end"
            options={others.length > 1 ? [...others, { value: ALL_OTHERS, label: 'All others' }] : others}
          />
        )}
        {others.length > 0 && mail !== null && (
          <TextField
            name="current-password"
            label="Your password"
            type="password"
            autoComplete="current-password"
          />
        )}
      </KeptForm>
    </>
  )
}
