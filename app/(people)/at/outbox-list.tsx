import { type ReactNode, useState } from 'react'
import type { Formats } from '../../ui/formats'
import { Link } from '../../ui/link'
import styles from './at.module.css'
import { atAddress } from './at-address'
import { AtLink, goTo } from './at-link'
import { goneWords, othersWords, STATE_WORDS } from './at-words'
import type { KnownSince } from './known'
import { type Entry, isOf, isOpen, sentAgain, sentTo } from './outbox'
import type { Phone } from './use-phone'

type Props = { phone: Phone; known: KnownSince; formats: Formats; unit: string | null }

/** What was entered on this phone, and what became of it; all of it where no vehicle is chosen. */
export function OutboxList(props: Props) {
  const { phone, known, unit } = props
  const sender = { person: known.person.id, organisation: known.organisation.id }
  const own = phone.entries
    .filter((entry) => isOf(entry, sender) && (unit === null || entry.unit === unit))
    .sort((a, b) => (a.madeAt < b.madeAt ? 1 : -1))
  const elsewhere =
    unit === null
      ? 0
      : phone.entries.filter((entry) => isOf(entry, sender) && entry.unit !== unit && isOpen(entry)).length
  const others = phone.entries.filter((entry) => !isOf(entry, sender) && isOpen(entry))
  const names = [...new Set(others.map(({ personName }) => personName))]
  return (
    <section className={styles.outbox} aria-labelledby="outbox">
      <h2 id="outbox">Entered on this phone</h2>
      {own.length === 0 && <p>Nothing yet{unit === null ? '' : ` of ${unit}`}.</p>}
      <div role="status">
        <ul className={styles.entries}>
          {own.map((entry) => (
            <EntryItem key={entry.id} {...props} entry={entry} />
          ))}
        </ul>
      </div>
      {elsewhere > 0 && (
        <AtLink className={styles.button} href="/at">
          {elsewhere} more of other vehicles
        </AtLink>
      )}
      {names.map((name) => (
        <p key={name}>{othersWords(name, others.filter(({ personName }) => personName === name).length)}</p>
      ))}
    </section>
  )
}

type ItemProps = Props & { entry: Entry }

function EntryItem(props: ItemProps) {
  const { entry, formats, unit } = props
  const { state } = entry
  const is = state.is === 'told' ? state.answer.outcome : state.is
  return (
    <li className={styles.entry} data-state={is}>
      <p>
        <strong>{unit === null ? `${entry.unit} · ${entry.title}` : entry.title}</strong>{' '}
        <small>{formats.moment(new Date(entry.madeAt))}</small>
      </p>
      <p className={styles.state}>{STATE_WORDS[is]}</p>
      <Told {...props} />
    </li>
  )
}

/** What was said of an entry, and what can be done about it. */
function Told(props: ItemProps) {
  const { entry, phone } = props
  const put = async (changed: Entry) => {
    await phone.memory.replace(changed)
    await phone.changed()
  }
  const acts = (...more: ReactNode[]) => (
    <div className={styles.acts}>
      {more}
      <ThrowAway {...props} />
    </div>
  )
  if (entry.state.is !== 'told') return entry.state.is === 'waiting' ? acts() : null
  const { answer } = entry.state
  switch (answer.outcome) {
    case 'entered':
      return <Entered entry={entry} lines={[answer.words, ...answer.lines]} />
    case 'asked':
      return (
        <>
          <p>{answer.question.words}</p>
          {acts(
            <Press key="yes" words={answer.question.yes} act={() => put(sentAgain(entry))} />,
            <Mend key="mend" {...props} />,
          )}
        </>
      )
    case 'refused':
      return (
        <>
          <ul>
            {answer.reasons.map((reason) => (
              <li key={reason}>{reason}</li>
            ))}
          </ul>
          {acts(entry.kind === 'photograph' ? null : <Mend key="mend" {...props} />)}
        </>
      )
    case 'gone':
      return (
        <>
          <p>{goneWords(entry.unit, answer.into)}</p>
          {acts(<OtherNumber key="number" into={answer.into} send={(unit) => put(sentTo(entry, unit))} />)}
        </>
      )
    case 'not-allowed':
      return acts(<Press key="again" words="Try again" act={() => put(sentAgain(entry))} />)
  }
}

function Entered({ entry: { unit }, lines }: { entry: Entry; lines: string[] }) {
  return (
    <>
      <ul>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <Link href={`/vehicles/${encodeURIComponent(unit)}#records`}>See it on the vehicle’s page</Link>
    </>
  )
}

function Press({ words, act }: { words: string; act: () => void }) {
  return (
    <button type="button" className={styles.button} onClick={act}>
      {words}
    </button>
  )
}

/** Its fields go back into the form that they came from. */
function Mend({ entry, phone }: ItemProps) {
  const weakPoint = entry.kind === 'repair' ? (entry.fields.weak_point ?? null) : null
  const form = entry.kind === 'repair' ? `repair ${weakPoint}` : entry.kind
  const mend = async () => {
    await phone.memory.mend(entry, { person: entry.person, unit: entry.unit, form })
    await phone.changed()
    goTo(atAddress(entry.unit, { doing: entry.kind, weakPoint }))
  }
  return <Press words="Mend it" act={mend} />
}

function OtherNumber({ into, send }: { into: string | null; send: (unit: string) => void }) {
  const [typed, setTyped] = useState(into ?? '')
  return (
    <form
      className={styles.typed}
      onSubmit={(event) => {
        event.preventDefault()
        if (typed.trim() !== '') send(typed.trim())
      }}
    >
      <label>
        The number that it has now
        <input className={styles.control} value={typed} onChange={(event) => setTyped(event.target.value)} />
      </label>
      <button type="submit" className={styles.button}>
        Send it there
      </button>
    </form>
  )
}

/** What is not on record anywhere else is thrown away at a second press alone. */
function ThrowAway({ entry, phone }: ItemProps) {
  const [isSure, setSure] = useState(false)
  const throwAway = async () => {
    await phone.memory.throwAway(entry.id)
    await phone.changed()
  }
  if (!isSure) return <Press words="Throw it away" act={() => setSure(true)} />
  return (
    <>
      <Press words="Yes, throw it away" act={throwAway} />
      <Press words="Leave it" act={() => setSure(false)} />
    </>
  )
}
