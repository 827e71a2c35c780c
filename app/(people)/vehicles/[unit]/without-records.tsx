import type { RecordEffect } from '@/lib/decisions/why-chance'
import type { RecordEffects } from '@/lib/jobs/why-chance'
import type { Family } from '@/lib/records/library'
import { dayOfRecord } from '@/lib/records/vehicle-records'
import type { VehicleComponent } from '@/lib/store/read/vehicle-components'
import { frequency } from '../../../ui/chance-words'
import type { Formats } from '../../../ui/formats'
import { Link } from '../../../ui/link'
import { Pending } from '../../../ui/pending'
import { countWord } from '../../../ui/words'
import { addressOfPlace, keyOf } from './place'
import type { Why } from './read-why'
import { recordWords } from './record-words'
import { StepWalk } from './step-walk'
import styles from './why.module.css'

type Props = { why: Why; component: VehicleComponent; family: Family; page: string; formats: Formats }

/** The chance without each record of the last two years: a press away, for it is the score once more for each of them. */
export function WithoutRecords({ why, component, family, page, formats }: Props) {
  const key = keyOf(component)
  const { effects, records } = why
  if (records === 0)
    return <p className={styles.soft}>No record of the last two years is there to be left out.</p>
  if (!effects) {
    return (
      <p className={styles.ask}>
        <Link href={addressOfPlace(page, { open: key, why: 'records' }, 'without')} scroll={false}>
          What would change without{' '}
          {records === 1 ? 'its one record' : `each of its ${formats.count(records)} records`} of the last two
          years
          <Pending>… being reckoned</Pending>
        </Link>
      </p>
    )
  }
  if (effects === 'cannot-be-reckoned')
    return (
      <p id="without" className={styles.soft}>
        Without one of its records this vehicle cannot be scored, so that they cannot be left out one by one.
        Its own chance stands. The server’s log names the reason.
      </p>
    )
  return (
    <div id="without" className={styles.without}>
      <h4>What would change without each record</h4>
      <p>{effectsSentence(effects, formats)}</p>
      {effects.telling.length > 0 && <Effects {...{ effects, family, formats }} />}
      <p className={styles.ask}>
        <Link href={addressOfPlace(page, { open: key }, key)} scroll={false}>
          Put this list away
        </Link>
      </p>
    </div>
  )
}

function effectsSentence({ telling, silent }: RecordEffects, formats: Formats): string {
  const all = telling.length + silent
  const moved = countWord(telling.length, formats.count)
  const counts =
    telling.length === 0
      ? `None of the ${formats.count(all)} records of the last two years moves it by more than a rounding.`
      : `Of ${formats.count(all)} records of the last two years, ${moved} ${telling.length === 1 ? 'moves' : 'move'} it by more than a rounding.`
  return `${counts} Each is left out by itself, and the chance reckoned anew from all the others; what was learned of all vehicles stays. These differences do not add up: where two records say the same, each counts for little while the other stands.`
}

function Effects({
  effects: { telling },
  family,
  formats,
}: {
  effects: RecordEffects
  family: Family
  formats: Formats
}) {
  return (
    <table className={styles.effects}>
      <caption className="for-ears">The chance without each record, the greatest difference first</caption>
      <thead>
        <tr>
          <th scope="col">Day</th>
          <th scope="col">Record</th>
          <th scope="col">○ without it, ● with it</th>
          <th scope="col">Without it</th>
          <th scope="col">What it adds</th>
        </tr>
      </thead>
      <tbody>
        {telling.map((effect) => (
          <Effect key={JSON.stringify(effect.record)} {...{ effect, family, formats }} />
        ))}
      </tbody>
    </table>
  )
}

function Effect({ effect, family, formats }: { effect: RecordEffect; family: Family; formats: Formats }) {
  const { record, chance, change } = effect
  return (
    <tr>
      <td className={styles.day}>{formats.day(dayOfRecord(record))}</td>
      <th scope="row">{recordWords(record, family, formats)}</th>
      <td className={styles.onScale}>
        <StepWalk from={chance} to={chance + change} />
      </td>
      <td className={styles.short} data-means="without it">
        <data value={chance}>{frequency(chance, formats.count)}</data>
      </td>
      <td className={styles.short}>
        <data value={change}>{formats.signedPercent(change)}</data>
      </td>
    </tr>
  )
}
