import type { Metadata } from 'next'
import { PART_WEEKS, type PartsNow, partsNow } from '@/lib/jobs/parts-now'
import { can } from '@/lib/people/permissions'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../require-person'
import { type Formats, formatsFor } from '../../ui/formats'
import { Frame } from '../../ui/frame'
import { KeptForm, TextField } from '../../ui/kept-form'
import { Link } from '../../ui/link'
import { PAGE_NAMES } from '../../ui/page-words'
import { TwinLinks } from '../../ui/twin-links'
import { CAUTION } from '../../ui/words'
import { keepLevel } from './actions'
import { EarlySection } from './early-section'
import styles from './parts.module.css'
import { type PartsAsked, partsAddress, partsAsked } from './parts-asked'
import { PartsTable } from './parts-table'
import { firstWords } from './parts-words'
import { StockForm } from './stock-form'

export const metadata: Metadata = { title: PAGE_NAMES.parts }

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

/** What parts the coming weeks need, what to order by when, and which fail early. */
export default async function PartsPage({ searchParams }: Props) {
  const asked = partsAsked(await searchParams)
  const { database, organisation, role } = await requirePerson()
  const now = new Date()
  const { terms, found } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    found: await partsNow(scope, asked.weeks, now),
  }))
  const formats = formatsFor(terms, terms.distance)
  const mayKeep = can(role, 'keep-parts')
  return (
    <Frame
      here="parts"
      asOf={`All numbers as of ${formats.longDay(found.today)}`}
      choices={[weeksChoice(asked)]}
    >
      <div className={styles.page}>
        <h1>{PAGE_NAMES.parts}</h1>
        <Found {...{ found, asked, formats, mayKeep }} />
        {found.parts.length > 0 && (
          <>
            <Unlisted {...{ found, asked, mayKeep }} />
            <Level level={found.level} mayChange={can(role, 'plan')} />
          </>
        )}
        <EarlySection formats={formats} now={now} />
        <p className={styles.foot}>{CAUTION}</p>
      </div>
    </Frame>
  )
}

const weeksChoice = (asked: PartsAsked) => ({
  name: 'Weeks ahead',
  options: PART_WEEKS.map((weeks) => ({
    label: `${weeks} weeks`,
    address: partsAddress({ ...asked, weeks }),
    chosen: weeks === asked.weeks,
  })),
})

type FoundProps = { found: PartsNow; asked: PartsAsked; formats: Formats; mayKeep: boolean }

function Found({ found, asked, formats, mayKeep }: FoundProps) {
  const { missing, parts } = found
  if (parts.length === 0) return <NothingYet missing={missing} />
  return (
    <>
      {missing.scores && (
        <p className={styles.notice}>
          No vehicle is scored yet, so that nothing is known of the need; only what is in stock is told.
        </p>
      )}
      {missing.stock && (
        <p className={styles.notice}>
          Nobody has said what is in stock: everything is reckoned as if there were none. Open a part and say
          it, or <Link href="/intake">bring in a file</Link>, <code>parts.csv</code>.
        </p>
      )}
      <p className={styles.first}>{firstWords(found, formats)}</p>
      <PartsTable {...{ found, asked, formats, mayKeep }} />
      <p className={styles.acts}>
        <TwinLinks csv={partsAddress({ ...asked, open: null }, '/parts.csv')} of="these parts" />
        <span>
          What to order:{' '}
          <TwinLinks csv={partsAddress({ ...asked, open: null }, '/parts/order.csv')} of="what to order" />
        </span>
      </p>
      <p className={styles.soft}>
        The dot is the mean, the band where the need lies in 4 of 5 cases, the stroke what is there and on
        order. Counted are failures, from the scores, and what is planned or booked. What is not known of a
        weak point is the same for all its vehicles, so that the band is wider than chance alone would make
        it.
      </p>
      <WithoutPart missing={missing} />
    </>
  )
}

function NothingYet({ missing }: { missing: PartsNow['missing'] }) {
  if (missing.library)
    return (
      <p>
        There is no library yet, so that nobody knows which parts may fail. First{' '}
        <Link href="/families">state an engine family</Link> with its weak points, and name the part of each.
      </p>
    )
  if (missing.withoutPart.length === missing.weakPoints)
    return (
      <p>
        No weak point of the library names its part, so that nothing can be counted. Open a weak point under{' '}
        <Link href="/families">Engine families</Link> and enter the number of its part.
      </p>
    )
  return (
    <p>
      No vehicle is scored yet. First <Link href="/intake">bring in records</Link> or{' '}
      <Link href="/new-vehicle">add a vehicle</Link> whose engine is in the library.
    </p>
  )
}

const MOST_NAMED = 8

function WithoutPart({ missing: { withoutPart, weakPoints } }: { missing: PartsNow['missing'] }) {
  if (withoutPart.length === 0) return null
  const named = withoutPart.slice(0, MOST_NAMED).map(({ name, familyName }) => `${name} (${familyName})`)
  return (
    <p className={styles.soft}>
      Not counted: {withoutPart.length} of {weakPoints} weak points, of which the library names no part:{' '}
      {named.join(', ')}
      {withoutPart.length > named.length && ', …'}. It is entered under{' '}
      <Link href="/families">Engine families</Link>.
    </p>
  )
}

/** A part that is not in the list: one that no weak point uses, or that is new. */
function Unlisted({ found, asked, mayKeep }: Pick<FoundProps, 'found' | 'asked' | 'mayKeep'>) {
  if (!mayKeep) return null
  const isOther = asked.open !== null && found.parts.every(({ part }) => part !== asked.open)
  return (
    <section className={styles.section} aria-labelledby="other" id={isOther ? 'open' : undefined}>
      <h2 id="other">Another part</h2>
      {isOther ? (
        <>
          <p>
            <strong>{asked.open}</strong> is not in the list: no weak point uses it. What is said of it is
            kept.
          </p>
          <StockForm
            stock={{
              ...{ part: asked.open!, onHand: null, onOrder: null, dueOn: null, leadDays: null, price: null },
              supplier: null,
            }}
          />
        </>
      ) : (
        <form action="/parts" method="get" className={styles.form}>
          <input type="hidden" name="weeks" value={asked.weeks} />
          <label>
            Number of the part
            <input name="open" required maxLength={200} autoComplete="off" />
          </label>
          <button type="submit">Open it</button>
        </form>
      )}
    </section>
  )
}

function Level({ level, mayChange }: { level: number; mayChange: boolean }) {
  if (!mayChange) return null
  return (
    <section className={styles.section} aria-labelledby="level">
      <h2 id="level">How sure to be</h2>
      <KeptForm action={keepLevel} submit="Keep">
        <TextField
          name="level"
          label="Parts are to be enough in so many of 100 cases"
          hint="More means more on the shelf. 95 where nothing else was said; no source is known."
          inputMode="decimal"
          unit="of 100"
          value={String(Number((level * 100).toPrecision(4)))}
        />
      </KeptForm>
    </section>
  )
}
