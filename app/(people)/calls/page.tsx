import type { Metadata } from 'next'
import { type CallList, readCalls, workOutCalls } from '@/lib/jobs/calls'
import { can } from '@/lib/people/permissions'
import { type OptOut, readOptOuts } from '@/lib/store/read/letters'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../require-person'
import { type Formats, formatsFor } from '../../ui/formats'
import { Frame } from '../../ui/frame'
import { Link } from '../../ui/link'
import { PAGE_NAMES } from '../../ui/page-words'
import { CALL_KINDS } from '../../ui/told-words'
import { TwinLinks } from '../../ui/twin-links'
import { CAUTION } from '../../ui/words'
import { BeingScored } from '../being-scored'
import { WatchProgress } from '../intake/watch-progress'
import styles from '../proposals/proposals.module.css'
import { takeOptOutBack } from './call-actions'
import { CallTable } from './call-table'
import own from './calls.module.css'
import { type CallsView, callsAddress, callsIn, callsViewIn, ofKind } from './calls-view'

export const metadata: Metadata = { title: PAGE_NAMES.calls }

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

/** Whom to telephone, whom to write to, whom to ask first, and why nobody writes to the others. */
export default async function CallsPage({ searchParams }: Props) {
  const { database, organisation, role } = await requirePerson()
  const { terms, list, optOuts } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    list: await readCalls(scope, new Date()),
    optOuts: await readOptOuts(scope),
  }))
  if (list && list.pending > 0) workOutCalls(database, organisation, new Date())
  const formats = formatsFor(terms, terms.distance)
  const view = callsViewIn(await searchParams)
  return (
    <Frame here="calls" asOf={list && `All numbers as of ${formats.longDay(list.today)}`} choices={[]}>
      <h1 className={styles.title}>{PAGE_NAMES.calls}</h1>
      <BeingScored {...{ database, organisation, formats }} again="/calls" />
      {list === null || (list.rows.length === 0 && list.pending === 0) ? (
        <Empty hasLibrary={list !== null} />
      ) : (
        <Calls {...{ list, view, formats }} />
      )}
      <OptOuts {...{ optOuts, formats }} mayChange={can(role, 'answer-proposals')} />
    </Frame>
  )
}

function Empty({ hasLibrary }: { hasLibrary: boolean }) {
  return hasLibrary ? (
    <p>
      No vehicle here belongs to a customer yet, or none is scored. Write whose it is on a vehicle’s page, or{' '}
      <Link href="/intake">bring in</Link> vehicles with the columns customer and contact.
    </p>
  ) : (
    <p>
      Nothing is known of any engine yet. <Link href="/families">State the first engine</Link>, and{' '}
      <Link href="/intake">bring in</Link> vehicles with their customers.
    </p>
  )
}

function Calls({ list, view, formats }: { list: CallList; view: CallsView; formats: Formats }) {
  const { rows, pending, letterEveryDays, quietMonths } = list
  const found = callsIn(rows, view)
  const plain = found.length - KINDS.reduce((sum, kind) => sum + ofKind(found, kind).length, 0)
  const about = {
    telephone: 'Never by letter. The vehicle’s page notes who was told, and when.',
    write:
      `A job pays for them at their prices even at the low end of its band, and somebody has looked at that part ` +
      `of that vehicle. Nobody is written to twice within ${formats.count(letterEveryDays)} days.`,
    'ask-first': `Nothing was heard of these for ${formats.count(quietMonths)} months: ask whether they still have the vehicle before anything is proposed.`,
    silent: 'Something is due, and there is a reason to leave them alone.',
  }
  return (
    <>
      <p className={own.lead}>
        Ranked by what they save. What the {pending > 0 ? 'list says so far' : 'list says'}:{' '}
        {formats.count(ofKind(found, 'telephone').length)} to telephone,{' '}
        {formats.count(ofKind(found, 'write').length)} worth writing to,{' '}
        {formats.count(ofKind(found, 'ask-first').length)} to ask first.
      </p>
      {pending > 0 && (
        <div role="status">
          <p>
            <progress max={rows.length + pending} value={rows.length} aria-label="Vehicles worked out" />{' '}
            {formats.count(pending)} of {formats.count(rows.length + pending)} vehicles are still being worked
            out.
          </p>
          <noscript>
            <a href={callsAddress(view)}>See how far it is now</a>
          </noscript>
          <WatchProgress />
        </div>
      )}
      <Find {...{ rows, view }} />
      {KINDS.map((kind) => (
        <CallTable
          key={kind}
          {...{ kind, view, formats }}
          title={CALL_KINDS[kind]}
          about={about[kind]}
          rows={ofKind(found, kind)}
        />
      ))}
      <p>
        {found.length === 0
          ? 'No vehicle is like that. '
          : `Of ${formats.count(plain)} more, nothing is due that we know of, or the engine is not in the library. `}
        {found.length < rows.length && <Link href="/calls">Show all</Link>}
      </p>
      <p>
        The letters that were written: <TwinLinks csv="/letters.csv" of="the letters that were written" />
      </p>
      <p>{CAUTION}</p>
    </>
  )
}

const KINDS = ['telephone', 'write', 'ask-first', 'silent'] as const

function Find({ rows, view }: { rows: CallList['rows']; view: CallsView }) {
  const engines = [...new Map(rows.map(({ family, familyName }) => [family, familyName]))]
  const sort = new URL(callsAddress(view), 'http://page.invalid').searchParams.get('sort')
  return (
    <form className={own.find} action="/calls" method="get">
      {sort !== null && <input type="hidden" name="sort" value={sort} />}
      <label>
        Find a customer, vehicle or job
        <input type="search" name="q" defaultValue={view.q} autoComplete="off" />
      </label>
      <label>
        Engine
        <select name="engine" defaultValue={view.engine}>
          <option value="">all</option>
          {engines.map(([key, name]) => (
            <option key={key} value={key}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <button type="submit">Show</button>
      <TwinLinks csv={callsAddress(view, '/calls.csv')} of="these calls" />
    </form>
  )
}

type OptOutsProps = { optOuts: OptOut[]; mayChange: boolean; formats: Formats }

function OptOuts({ optOuts, mayChange, formats }: OptOutsProps) {
  if (optOuts.length === 0) return null
  return (
    <section className={styles.section} aria-labelledby="opted-out">
      <h2 id="opted-out">Who wants no letters</h2>
      <p>By name: another customer of the same name gets none either.</p>
      <ul className={own.outs}>
        {optOuts.map(({ id, customer, notedOn, notedByName }) => (
          <li key={id}>
            {customer}, since {formats.day(notedOn)}
            {notedByName && ` (${notedByName})`}
            {mayChange && (
              <form action={takeOptOutBack.bind(null, id)}>
                <button type="submit" className={own.plain} aria-label={`Undo: ${customer}`}>
                  Undo
                </button>
              </form>
            )}
          </li>
        ))}
      </ul>
    </section>
  )
}
