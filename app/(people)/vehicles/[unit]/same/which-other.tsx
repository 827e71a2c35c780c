import Form from 'next/form'
import styles from './same.module.css'

type Props = {
  unit: string
  /** The number that was typed; blank where none was. */
  asked: string
  isThere: boolean
  /** It has been made one with this vehicle. */
  isMerged: boolean
}

/** Asks for the number of the other vehicle, and says where there is none. */
export function WhichOther({ unit, asked, isThere, isMerged }: Props) {
  return (
    <>
      <Form action={`/vehicles/${encodeURIComponent(unit)}/same`} scroll={false} className={styles.which}>
        <label>
          The other’s number
          <input name="other" defaultValue={asked} autoComplete="off" required />
        </label>
        <button type="submit">Show both</button>
      </Form>
      {asked !== '' && !isThere && !isMerged && (
        <p role="alert">
          {asked === unit
            ? 'That is this vehicle itself.'
            : `There is no vehicle ${asked}: look at its number again.`}
        </p>
      )}
    </>
  )
}
