import type { Metadata } from 'next'
import { readTypedComplaint } from '@/lib/intake/typed-complaint'
import { faultUnrecorded } from '@/lib/jobs/find-fault-unrecorded'
import { can } from '@/lib/people/permissions'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { dayIn } from '@/lib/units/dates'
import { requirePerson } from '../../../require-person'
import { formatsFor } from '../../../ui/formats'
import { Frame } from '../../../ui/frame'
import { KeptForm, TextField } from '../../../ui/kept-form'
import { Link } from '../../../ui/link'
import { CAUTION, VEHICLE_NUMBER } from '../../../ui/words'
import styles from '../fault-finding.module.css'
import { FaultSections } from '../fault-sections'
import { keepVehicle } from './actions'
import { NO_NUMBER, unrecordedAsked, unrecordedParameters } from './unrecorded-asked'
import { EngineForm, SignsForm } from './unrecorded-forms'

const TITLE = 'Fault finding without records'
export const metadata: Metadata = { title: TITLE }

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

/** A question on the telephone: an engine, what it has run, what is noticed. Nothing is stored unless it is kept. */
export default async function UnrecordedPage({ searchParams }: Props) {
  const asked = unrecordedAsked(await searchParams)
  const { database, organisation, role } = await requirePerson()
  const now = new Date()
  const isAsked = asked.seen.length + asked.notSeen.length > 0 || asked.codes.trim() !== ''
  const { terms, known, typed, fault } = await withOrganisation(database, organisation, async (scope) => {
    const [terms, known] = [await readTerms(scope), await readKnownLibrary(scope)]
    const today = dayIn(terms.timeZone, now)
    const ground = { families: known?.library.families ?? [], today, distance: terms.distance }
    const typed = isAsked ? readTypedComplaint({ ...asked, unit: NO_NUMBER }, ground) : null
    const fault = typed?.ok
      ? await faultUnrecorded(scope, { records: typed.records, spendingLimit: asked.limit }, now)
      : null
    return { terms, known, typed, fault }
  })
  const formats = formatsFor(terms, terms.distance)
  const families = (known?.library.families ?? []).filter(({ retired }) => !retired)
  const family = families.find(({ key }) => key === asked.family)
  return (
    <Frame
      here="faultFinding"
      asOf={fault ? `All numbers as of ${formats.longDay(fault.asOf)}` : null}
      choices={[]}
    >
      <header className={styles.head}>
        <h1>{TITLE}</h1>
        <p className={styles.who}>
          {family
            ? `${family.name}, which has run about ${asked.odometer}.`
            : 'For a vehicle that is not on record.'}{' '}
          Nothing of this is stored unless you keep it.
        </p>
      </header>
      {typed && !typed.ok && (
        <ul className={styles.unread} role="alert">
          {typed.slips.map(({ field, message }) => (
            <li key={`${field} ${message}`}>{message}</li>
          ))}
        </ul>
      )}
      {fault?.search && (
        <FaultSections
          unit={null}
          search={fault.search}
          {...{ formats, limit: asked.limit }}
          mayEnter={false}
          limitForm={null}
        />
      )}
      {fault && !fault.search && (
        <p className={styles.text}>
          Nothing of what was said is a sign of a weak point that the library knows of this engine: it says
          nothing of where the fault is.
        </p>
      )}
      {families.length === 0 ? (
        <p className={styles.text}>
          The library knows no engine yet: <Link href="/families">state one, or bring in a library</Link>.
        </p>
      ) : (
        <section className={styles.section} aria-labelledby="said">
          <h2 id="said">What is said of it</h2>
          <EngineForm {...{ families, asked }} distance={terms.distance} />
          {family && asked.odometer.trim() !== '' && (
            <SignsForm {...{ family, asked }} zones={known?.library.zones ?? []} currency={terms.currency} />
          )}
        </section>
      )}
      {fault && can(role, 'enter-records') && (
        <section className={styles.section} aria-labelledby="keep">
          <h2 id="keep">Keep it, or drop it</h2>
          <p>
            Kept, it is a vehicle like any other from today on, with this reading and what was noticed;
            results are then entered there. <Link href="/fault-finding">Drop it</Link> and nothing remains.
          </p>
          <KeptForm
            action={keepVehicle.bind(null, new URLSearchParams(unrecordedParameters(asked)).toString())}
            submit="Keep it as a vehicle"
          >
            <TextField
              name="unit"
              label={upperFirst(VEHICLE_NUMBER[terms.vehicleNumber])}
              hint="What it is called here; no other vehicle has it."
              autoComplete="off"
            />
          </KeptForm>
        </section>
      )}
      <p className={styles.foot}>{CAUTION}</p>
    </Frame>
  )
}

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
