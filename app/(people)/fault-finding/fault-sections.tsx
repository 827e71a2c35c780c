import type { ReactNode } from 'react'
import type { FaultAnswered, FaultMove, FaultSearched } from '@/lib/jobs/find-fault'
import { LATELY_DAYS } from '@/lib/records/seen-lately'
import { frequency } from '../../ui/chance-words'
import type { Formats } from '../../ui/formats'
import { NO_CAUTIONS } from '../../ui/library-words'
import { Link } from '../../ui/link'
import table from '../../ui/list-table.module.css'
import { TwinLinks } from '../../ui/twin-links'
import { twinAddress } from '../twins/twin-address'
import { addressOfPlace } from '../vehicles/[unit]/place'
import styles from './fault-finding.module.css'
import {
  againstWords,
  chanceWords,
  helpedWords,
  howWords,
  nextWords,
  partWords,
  signWords,
  stopWords,
  trialWords,
} from './fault-words'
import { StepTable } from './step-table'

type Props = {
  /** Null: it is not on record. */
  unit: string | null
  search: FaultSearched
  limit: number | null
  limitForm: ReactNode
  mayEnter: boolean
  formats: Formats
}

/** What to do next and its cost first; then what it may be, and in which order to go on. */
export function FaultSections({ unit, search, limit, limitForm, mayEnter, formats }: Props) {
  const enter = (move: FaultMove) => (mayEnter && unit !== null ? entryAddress(unit, move) : null)
  const stop = stopWords(search, limit, formats)
  return (
    <>
      <Next {...{ search, stop, enter, formats }} />
      <section className={styles.section} aria-labelledby="causes">
        <h2 id="causes">What it may be</h2>
        <p>
          {unit === null ? 'Noticed' : `Seen in the last ${formats.count(LATELY_DAYS)} days`}:{' '}
          {search.seen.map(signWords).join('; ')}.
        </p>
        <Causes {...{ search, formats }} />
        {unit !== null && (
          <p>
            <TwinLinks csv={twinAddress('/fault-finding/causes.csv', { unit })} of="what it may be" />
          </p>
        )}
        <p className={styles.soft}>
          It is taken to be one of these, and only one. That it is something the library does not know is left
          aside; where the right-hand figures are all small, think of that too.
        </p>
      </section>
      <section className={styles.section} aria-labelledby="order">
        <h2 id="order">In which order</h2>
        <p>{againstWords(search, formats)}</p>
        {limitForm}
        {stop !== '' && <p className={styles.stopRule}>{stop}</p>}
        <StepTable {...{ search, enter, formats }} />
        {unit !== null && (
          <p>
            <TwinLinks
              csv={twinAddress('/fault-finding.csv', {
                unit,
                limit: limit === null ? undefined : String(limit),
              })}
              of="these steps"
            />
          </p>
        )}
        <p>
          This is the order as long as nothing is found.{' '}
          {unit === null
            ? 'Tick each result below and ask again: the rest is put in order anew.'
            : 'Enter each result where records are entered and come back: the rest is put in order anew, for the records have changed.'}
        </p>
        <p>{helpedWords(formats)}</p>
      </section>
      <Cautions moves={search.moves} />
    </>
  )
}

/** Where the result of a step is entered: on the vehicle's page, like every other record. */
export function entryAddress(unit: string, { do: move }: FaultMove): string {
  const page = `/vehicles/${encodeURIComponent(unit)}`
  if (move.kind === 'renew')
    return addressOfPlace(page, { enter: 'repair', weakPoint: move.part.weakPoint }, 'enter')
  return addressOfPlace(page, { enter: move.by === 'code' ? 'codes' : 'look' }, 'enter')
}

type NextProps = Pick<Props, 'search' | 'formats'> & {
  stop: string
  enter: (move: FaultMove) => string | null
}

function Next({ search, stop, enter, formats }: NextProps) {
  const [first] = search.moves
  if (!first) return null
  const address = enter(first)
  const how = howWords(first)
  return (
    <section className={styles.next} aria-label="Next step">
      {search.stop?.after === 0 && <p className={styles.stopRule}>{stop}</p>}
      <p className={styles.first}>{nextWords(first, formats)}</p>
      <p>
        {upperFirst(chanceWords(first, formats))}. {how}
      </p>
      {first.do.kind === 'renew' && (
        <p>
          <strong>Cautions:</strong> {cautionWords(first.do.cautions)}
        </p>
      )}
      {address !== null && (
        <p>
          <Link className={styles.act} href={address}>
            Enter what came out
          </Link>
        </p>
      )}
    </section>
  )
}

function Causes({ search: { causes }, formats }: Pick<Props, 'search' | 'formats'>) {
  return (
    <table className={table.table}>
      <caption className="for-ears">What it may be, the likeliest first</caption>
      <thead>
        <tr>
          <th scope="col">Part</th>
          <th scope="col">It is this</th>
          <th scope="col">Going, whatever else is</th>
        </tr>
      </thead>
      <tbody>
        {causes.map((cause) => (
          <tr key={`${cause.weakPoint} ${cause.position}`}>
            <th scope="row">{partWords(cause)}</th>
            <td data-label="It is this">{frequency(cause.chance, formats.count)}</td>
            <td data-label="Going, whatever else is">{frequency(cause.developing, formats.count)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

/** What to mind, of each job that is proposed. */
function Cautions({ moves }: { moves: FaultMove[] }) {
  const told = new Map(
    moves.flatMap(({ do: move }) =>
      move.kind === 'renew' ? [[move.part.name, move.cautions] as const] : [],
    ),
  )
  if (told.size === 0) return null
  return (
    <section className={styles.section} aria-labelledby="cautions">
      <h2 id="cautions">Cautions</h2>
      <ul className={styles.cautions}>
        {[...told].map(([name, cautions]) => (
          <li key={name}>
            <strong>{name}:</strong> {cautionWords(cautions)}
          </li>
        ))}
      </ul>
    </section>
  )
}

const cautionWords = (cautions: string[]) => (cautions.length > 0 ? cautions.join(' ') : NO_CAUTIONS)

type TrialProps = { unit: string; answered: FaultAnswered[]; mayEnter: boolean; formats: Formats }

/** What was replaced since a sign was seen: whether it helped, and what is still to be driven before that is said. */
export function OnTrial({ unit, answered, mayEnter, formats }: TrialProps) {
  if (answered.length === 0) return null
  const page = `/vehicles/${encodeURIComponent(unit)}`
  return (
    <section className={styles.section} aria-labelledby="trial">
      <h2 id="trial">Replaced since a sign was seen</h2>
      <ul className={styles.cautions}>
        {answered.map((each) => (
          <li key={`${each.sign.sign} ${each.sign.position}`}>{trialWords(each, formats)}</li>
        ))}
      </ul>
      {mayEnter && (
        <p className={styles.acts}>
          <Link href={addressOfPlace(page, { enter: 'report' }, 'enter')}>Enter that it came back</Link>
          <Link href={addressOfPlace(page, { enter: 'reading' }, 'enter')}>Enter a reading</Link>
        </p>
      )}
    </section>
  )
}

/** What to do where nothing was seen lately. */
export function NothingSeen({
  unit,
  mayEnter,
  formats,
}: Pick<Props, 'mayEnter' | 'formats'> & { unit: string }) {
  const page = `/vehicles/${encodeURIComponent(unit)}`
  return (
    <div className={styles.text}>
      <p>
        There is no sign to go by: in the last {formats.count(LATELY_DAYS)} days nothing was seen that a known
        weak point could cause, or a part that could was replaced since.
      </p>
      <p>
        Read the codes, have a look, or ask the driver what is noticed, and enter it; then the search begins
        here.
      </p>
      {mayEnter && (
        <p className={styles.acts}>
          <Link href={addressOfPlace(page, { enter: 'codes' }, 'enter')}>Enter codes</Link>
          <Link href={addressOfPlace(page, { enter: 'look' }, 'enter')}>Enter a look</Link>
          <Link href={addressOfPlace(page, { enter: 'report' }, 'enter')}>Enter what the driver says</Link>
        </p>
      )}
      <p>{helpedWords(formats)}</p>
    </div>
  )
}

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
