import type { ReactNode } from 'react'
import type { OutlookPoint } from '@/lib/jobs/vehicle-outlook'
import type { Family, Sign, WeakPoint } from '@/lib/records/library'
import type { RepairRow } from '@/lib/records/rows'
import type { VehicleComponent } from '@/lib/store/read/vehicle-components'
import { frequency } from '../../../ui/chance-words'
import type { Formats } from '../../../ui/formats'
import { HARM, NO_CAUTIONS, SIGN_KINDS } from '../../../ui/library-words'
import { Link } from '../../../ui/link'
import { WHAT_WE_SAID } from '../../../ui/page-words'
import { ACTIONS } from '../../../ui/record-words'
import { CAUTION, STOP_ORDERS } from '../../../ui/words'
import { clockAmount } from '../../families/amounts'
import { OutlookChart } from './outlook-chart'
import { addressOfPlace } from './place'
import { addressOfSaid } from './said/address'
import styles from './vehicle.module.css'

type Props = {
  component: VehicleComponent
  weakPoint: WeakPoint
  family: Family
  outlook: OutlookPoint[]
  /** The last work that renewed it, at this position. */
  renewal: RepairRow | undefined
  /** The last record on which it was found failed, at this position. */
  failure: { id: string; row: RepairRow } | undefined
  page: string
  formats: Formats
  /** Why its chance is what it is. */
  children: ReactNode
}

/** What stands behind one weak point of a vehicle. */
export function ComponentDetails(props: Props) {
  const { component, weakPoint, family, outlook, failure, page, formats, children } = props
  const signs = family.signs.filter(({ causes }) => causes.some((cause) => cause.weakPoint === weakPoint.key))
  return (
    <div className={styles.details}>
      <OutlookChart component={component} outlook={outlook} formats={formats} />
      <div>
        <Facts {...props} />
        <h3>Cautions</h3>
        {weakPoint.cautions.length === 0 && <p>{NO_CAUTIONS}</p>}
        <ul>
          {weakPoint.cautions.map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ul>
        <p className={styles.rests}>{CAUTION}</p>
        <p className={styles.acts}>
          <Link href={addressOfPlace(page, { enter: 'repair', weakPoint: weakPoint.key }, 'enter')}>
            Record a repair
          </Link>
          <Link href={addressOfPlace(page, { enter: 'look' }, 'enter')}>Record a look</Link>
          <Link href={`/families/${encodeURIComponent(family.key)}#${encodeURIComponent(weakPoint.key)}`}>
            What the library says of it
          </Link>
          {failure && (
            <Link href={addressOfSaid(failure.row.unit, failure.id, component.position)}>
              {WHAT_WE_SAID} before it failed {formats.day(failure.row.doneOn)}
            </Link>
          )}
        </p>
      </div>
      {children}
      <Signs signs={signs} />
    </div>
  )
}

function Facts({ component, weakPoint, renewal, formats }: Props) {
  const { failureMode, renewEvery, clock, part, zone, harm } = weakPoint
  const facts: [string, string | null][] = [
    ['How it fails', [failureMode, harm && HARM].filter(Boolean).join('; ') || null],
    ['What speaks for it', component.speaks],
    ['Going already', frequency(component.pDeveloping, formats.count)],
    [
      'Half last longer than',
      component.remainingKmP50 === null ? 'not known' : `${formats.distance(component.remainingKmP50)} more`,
    ],
    ['Last renewed', renewalWords(renewal, formats)],
    ['Due every', renewEvery === null ? 'no interval is stated' : clockAmount(renewEvery, clock, formats)],
    ['Part', part],
    ['Where', zone],
  ]
  return (
    <dl className={styles.facts}>
      {facts.map(
        ([name, value]) =>
          value !== null && (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ),
      )}
    </dl>
  )
}

function renewalWords(renewal: RepairRow | undefined, formats: Formats): string {
  if (!renewal) return 'no renewal on record'
  const at = renewal.odometerKm === null ? '' : ` at ${formats.distance(renewal.odometerKm)}`
  return `${ACTIONS[renewal.action]} ${formats.day(renewal.doneOn)}${at}`
}

function Signs({ signs }: { signs: Sign[] }) {
  if (signs.length === 0) return <p>No sign of it is known: age and distance alone speak.</p>
  return (
    <div className={styles.signs}>
      <h3>Signs, and how to look for them</h3>
      <dl>
        {signs.map((sign) => (
          <div key={sign.key}>
            <dt>{sign.label}</dt>
            <dd>
              {upperFirst([SIGN_KINDS[sign.kind], sign.zone].filter(Boolean).join('; '))}. {sign.how}{' '}
              {sign.stop && <strong className={styles.alarm}>Whoever sees it: {STOP_ORDERS}</strong>}
            </dd>
          </div>
        ))}
      </dl>
    </div>
  )
}

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
