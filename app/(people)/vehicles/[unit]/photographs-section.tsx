import type { VehiclePhotograph } from '@/lib/store/read/photographs'
import type { Formats } from '../../../ui/formats'
import { Link } from '../../../ui/link'
import { atAddress } from '../../at/at-address'
import { changePhotographState } from './photograph-actions'
import styles from './photographs.module.css'

type Props = { unit: string; photographs: VehiclePhotograph[]; mayEnter: boolean; formats: Formats }

/** What was photographed beside the vehicle, the latest first; what was withdrawn stays to be brought back. */
export function PhotographsSection({ unit, photographs, mayEnter, formats }: Props) {
  if (photographs.length === 0) return null
  return (
    <section aria-labelledby="photographs">
      <h2 id="photographs">Photographs</h2>
      <form action={changePhotographState}>
        <ul className={styles.list}>
          {photographs.map((photograph) => (
            <Photograph key={photograph.id} {...{ photograph, mayEnter, formats }} />
          ))}
        </ul>
      </form>
      {mayEnter && <Link href={atAddress(unit, { doing: 'photograph' })}>Take another one, on a phone</Link>}
    </section>
  )
}

function Photograph(props: Pick<Props, 'mayEnter' | 'formats'> & { photograph: VehiclePhotograph }) {
  const { photograph, mayEnter, formats } = props
  const { id, width, height, note, takenAt, enteredByName, withdrawnAt } = photograph
  const address = `/photographs/${id}`
  const words = note || 'No words were written with it'
  const taken = `${formats.moment(takenAt)}${enteredByName === null ? '' : ` by ${enteredByName}`}`
  return (
    <li className={styles.photograph}>
      {withdrawnAt === null && (
        <a href={address}>
          {/* biome-ignore lint/performance/noImgElement: it is small already, and whoever sees it is asked for each time */}
          <img src={address} alt={note || `Photograph of ${taken}`} {...{ width, height }} loading="lazy" />
        </a>
      )}
      <p>{withdrawnAt === null ? words : <del>{words}</del>}</p>
      <p>
        <small>
          {taken}
          {withdrawnAt !== null && `, withdrawn ${formats.moment(withdrawnAt)}`}
        </small>
      </p>
      {mayEnter && (
        <button type="submit" name="pressed" value={`${withdrawnAt === null ? 'withdraw' : 'restore'} ${id}`}>
          {withdrawnAt === null ? 'Withdraw' : 'Bring back'}
        </button>
      )}
    </li>
  )
}
