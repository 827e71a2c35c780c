import type { OwnAccount } from '@/lib/people/own-account'
import type { Formats } from '../../../ui/formats'
import styles from '../settings.module.css'
import { endSessions } from './you-actions'
import { YOU_WORDS } from './you-words'

type Props = { sessions: OwnAccount['sessions']; formats: Formats }

/** Where somebody is signed in; each session can be ended, and all but this one at once. */
export function SessionTable({ sessions, formats }: Props) {
  return (
    <>
      <table className={styles.table}>
        <caption className="for-ears">Your sessions, the latest first</caption>
        <thead>
          <tr>
            <th scope="col">Browser</th>
            <th scope="col">Since</th>
            <th scope="col">
              <span className="for-ears">End</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {sessions.map((session) => (
            <SessionRow key={session.id} {...{ session, formats }} />
          ))}
        </tbody>
      </table>
      {sessions.length > 1 && (
        <form action={endSessions}>
          <button type="submit" className={styles.revoke} name="others" value="yes">
            End all others
          </button>
        </form>
      )}
    </>
  )
}

function SessionRow({ session, formats }: { session: OwnAccount['sessions'][number]; formats: Formats }) {
  const [browser, since] = [session.browser || YOU_WORDS.unknownBrowser, formats.moment(session.since)]
  return (
    <tr>
      <th scope="row">{browser}</th>
      <td>{since}</td>
      <td>
        {session.isThis ? (
          'this one'
        ) : (
          <form action={endSessions}>
            <input type="hidden" name="id" value={session.id} />
            <button type="submit" className={styles.revoke} aria-label={`End ${browser}, since ${since}`}>
              End
            </button>
          </form>
        )}
      </td>
    </tr>
  )
}
