import type { ListedToken } from '@/lib/store/read/tokens'
import { ROLES } from '@/lib/store/role'
import type { Formats } from '../../ui/formats'
import { KeptForm, SelectField, TextField } from '../../ui/kept-form'
import { ROLE_WORDS } from '../../ui/words'
import { addToken, endToken } from './actions'
import styles from './settings.module.css'

type Props = { tokens: ListedToken[]; formats: Formats }

/** The tokens by which programs speak for the organisation: list, make, revoke. */
export function Tokens({ tokens, formats }: Props) {
  return (
    <>
      <p className={styles.note}>
        A token lets a program send records and read scores at <code>/api/v1</code> for this organisation
        alone, as <a href="/api/openapi.json">its description</a> says.
      </p>
      {tokens.length > 0 && (
        <table className={styles.table}>
          <caption className="for-ears">Tokens, those in use first</caption>
          <thead>
            <tr>
              <th scope="col">Name</th>
              <th scope="col">Role</th>
              <th scope="col">Made</th>
              <th scope="col">Last used</th>
              <th scope="col">
                <span className="for-ears">Revoke</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {tokens.map((token) => (
              <TokenRow key={token.id} token={token} formats={formats} />
            ))}
          </tbody>
        </table>
      )}
      <h3>Make a token</h3>
      <KeptForm action={addToken} submit="Make it">
        <TextField
          name="name"
          label="What will use it"
          hint="Its records carry this name."
          autoComplete="off"
        />
        <SelectField
          name="role"
          label="What it may do"
          value="planner"
          options={ROLES.map((role) => ({ value: role, label: ROLE_WORDS[role] }))}
        />
      </KeptForm>
    </>
  )
}

function TokenRow({ token, formats }: { token: ListedToken; formats: Formats }) {
  const { id, name, role, madeBy, madeAt, lastUsedAt, revokedAt } = token
  return (
    <tr>
      <th scope="row">{name}</th>
      <td>{role}</td>
      <td>
        {formats.moment(madeAt)} {madeBy === null ? 'on the command line' : `by ${madeBy}`}
      </td>
      <td>{lastUsedAt === null ? 'never' : formats.moment(lastUsedAt)}</td>
      <td>
        {revokedAt === null ? (
          <form action={endToken}>
            <input type="hidden" name="id" value={id} />
            <button type="submit" className={styles.revoke} aria-label={`Revoke ${name}`}>
              Revoke
            </button>
          </form>
        ) : (
          `revoked ${formats.moment(revokedAt)}`
        )}
      </td>
    </tr>
  )
}
