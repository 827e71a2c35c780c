import type { VehicleComponent } from '@/lib/store/read/vehicle-components'
import type { VehicleHead as Head, HeadScore } from '@/lib/store/read/vehicle-head'
import type { Day } from '@/lib/units/dates'
import { AdviceMark } from '../../../ui/advice-mark'
import { frequency } from '../../../ui/chance-words'
import type { Formats } from '../../../ui/formats'
import { DUTIES, NO_CAUTIONS } from '../../../ui/library-words'
import { Link } from '../../../ui/link'
import { KNOWN_OF_CUSTOMER, SET_ASIDE, STOCK_FILE, STOCK_SHEET } from '../../../ui/page-words'
import { HISTORIES } from '../../../ui/record-words'
import { Waiting } from '../../../ui/waiting'
import {
  CAUTION,
  daysAgo,
  horizonWords,
  NOT_COVERED,
  placeWords,
  slotWords,
  whyNotAssessed,
} from '../../../ui/words'
import { STARTER } from '../../families/new/starter-words'
import { statusWords } from './status-words'
import styles from './vehicle.module.css'

type Props = {
  vehicle: Head
  /** The component that is advised on first; none where nothing is assessed. */
  first: VehicleComponent | undefined
  /** The cautions of its weak point. */
  cautions: string[]
  horizonDays: number
  slotDays: number
  /** Where everything known of its customer stands; null for who may not, and where there is none. */
  ofCustomer: string | null
  /** Where what it is can be changed; null for who may not. */
  facts: string | null
  /** Where its engine can be described; null for who may not, or where nobody has said which it is. */
  starter: string | null
  today: Day
  formats: Formats
}

/** Who it is, what is advised, and what the advice rests on. */
export function VehicleHead(props: Props) {
  const { vehicle, first, cautions, horizonDays, slotDays, facts, ofCustomer, starter, today, formats } =
    props
  const { unit, plate, family, site, customer, contact, score } = vehicle
  const status = statusWords({ ...vehicle, isScored: score !== null }, today, formats)
  return (
    <header className={styles.head}>
      <h1>{unit}</h1>
      <p className={styles.who}>
        {[plate, family, site, customer, contact].filter(Boolean).join(' · ')}
        {ofCustomer !== null && (
          <>
            {' · '}
            <Link href={ofCustomer}>{KNOWN_OF_CUSTOMER}</Link>
          </>
        )}
        {facts !== null && (
          <>
            {' · '}
            <Link href={facts}>change</Link>
          </>
        )}
      </p>
      {status !== null && <p>{status}</p>}
      {score && <Advice {...{ score, first, cautions, slotDays, starter, formats }} />}
      {score?.combined != null && <Chance {...{ score, combined: score.combined, horizonDays, formats }} />}
      <p className={styles.rests}>{factWords(vehicle, formats)}</p>
      {score && <p className={styles.rests}>{lookedAtWords(score, formats)}</p>}
      {!score && (vehicle.status === 'active' || vehicle.status === 'stock') && (
        <p>It has not been scored yet.</p>
      )}
      {(vehicle.status === 'stock' || vehicle.status === 'sold') && (
        <p className={styles.sheets}>
          {SHEETS.map(({ at, name }) => (
            <Link key={at} href={`/vehicles/${encodeURIComponent(unit)}/${at}`}>
              {name}
            </Link>
          ))}
        </p>
      )}
    </header>
  )
}

const SHEETS = [
  { at: 'set-aside', name: SET_ASIDE },
  { at: 'stock-sheet', name: STOCK_SHEET },
  { at: 'stock-file', name: STOCK_FILE },
]

type AdviceProps = Pick<Props, 'first' | 'cautions' | 'slotDays' | 'starter' | 'formats'> & {
  score: HeadScore
}

function Advice({ score, first, cautions, slotDays, starter, formats }: AdviceProps) {
  const { standing, speaks } = score
  const job = first && (standing === 'stop' || standing === 'book' || standing === 'check')
  return (
    <>
      <p className={styles.advice}>
        <AdviceMark standing={standing} />
        {standing === 'not-assessed' && ` ${whyNotAssessed(speaks)}`}
        {standing === 'not-assessed' && speaks === null && starter !== null && (
          <>
            {' '}
            <Link href={starter}>{STARTER}</Link>
          </>
        )}
        {job && (
          <>
            {': '}
            {[first.name, placeWords(first.place, first.position)].filter(Boolean).join(', ')}; waiting{' '}
            {slotWords(slotDays)}{' '}
            <Waiting cost={first.costOfWaiting} band={bandOf(first)} formats={formats} />
          </>
        )}
      </p>
      {job && (
        <p className={styles.cautions}>
          <strong>Cautions:</strong> {cautions.length > 0 ? cautions.join(' ') : NO_CAUTIONS} {CAUTION}
        </p>
      )}
    </>
  )
}

const bandOf = ({ waitingLow: low, waitingHigh: high }: VehicleComponent) =>
  low === null || high === null ? null : { low, high }

type ChanceProps = Pick<Props, 'horizonDays' | 'formats'> & { score: HeadScore; combined: number }

function Chance({ score: { leading, weakPointsCovered }, combined, horizonDays, formats }: ChanceProps) {
  return (
    <p>
      Chance that something fails within {horizonWords(horizonDays)} if nothing is done:{' '}
      <data value={combined}>
        <strong>{frequency(combined, formats.count)}</strong>
      </data>
      {leading && (
        <>
          , most of it the {lowerFirst(leading.name)} {placeWords(leading.place, leading.position)} (
          {frequency(leading.pFail, formats.count)})
        </>
      )}
      . {formats.count(weakPointsCovered)} weak points of its engine are covered; {NOT_COVERED}.
    </p>
  )
}

const lowerFirst = (text: string) => text.charAt(0).toLowerCase() + text.slice(1)

function factWords({ score, duty, history, watchedFromKm }: Head, formats: Formats): string {
  const since =
    watchedFromKm === null || history === 'full' ? '' : `, from ${formats.distance(watchedFromKm)} on`
  return `${odometerWords(score, formats)} ${upperFirst(DUTIES[duty])}; ${HISTORIES[history]}${since}.`
}

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

function odometerWords(score: HeadScore | null, formats: Formats): string {
  if (score?.odometerKm == null) return 'Its odometer is not known.'
  const { odometerKm, odometerReadOn, odometerEstimated, kmPerDay, stands } = score
  const read = odometerReadOn === null ? 'never read' : `last read ${formats.day(odometerReadOn)}`
  const use = stands ? 'it stands' : `about ${formats.distance(kmPerDay)} a day`
  return `${formats.distance(odometerKm)}, ${odometerEstimated ? `estimated; ${read}` : read}; ${use}.`
}

function lookedAtWords({ asOf, lastLookedAtOn, lastFullScanOn }: HeadScore, formats: Formats): string {
  const ago = (day: number | null) => (day === null ? 'never' : daysAgo(asOf - day, formats.count))
  return `Looked at: ${ago(lastLookedAtOn)}. Full scan: ${ago(lastFullScanOn)}.`
}
