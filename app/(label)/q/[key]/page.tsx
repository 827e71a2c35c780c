import type { Metadata } from 'next'
import { notFound, redirect } from 'next/navigation'
import { vehicleOfLabel } from '@/lib/people/labels'
import { DRIVER_REPORT_KINDS } from '@/lib/records/driver-report'
import { productDatabase } from '@/lib/store/product-database'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { whoAsks } from '../../../require-person'
import { AreaField, ChoiceField, KeptForm, TextField } from '../../../ui/kept-form'
import { reportByLabel } from './actions'
import styles from './driver.module.css'
import { DRIVER_KINDS, STOP_AT_ONCE } from './driver-words'

type Props = { params: Promise<{ key: string }> }

export const metadata: Metadata = { title: 'Tell the workshop', robots: { index: false, follow: false } }

/**
 * Where a label leads: whoever may enter records of that vehicle goes on to do so; everybody else tells the workshop
 * what is wrong, without signing in, and sees nothing but the vehicle's number.
 */
export default async function DriverPage({ params }: Props) {
  const { key } = await params
  const database = await productDatabase()
  const vehicle = await vehicleOfLabel(database, key)
  if (!vehicle) notFound()
  const { organisation, organisationName, unit } = vehicle
  const asked = await whoAsks('enter-records')
  if (asked.ok && asked.present.organisation === organisation) redirect(`/at/${encodeURIComponent(unit)}`)
  const { distance } = await withOrganisation(database, organisation, readTerms)
  return (
    <main className={styles.page}>
      <p className={styles.from}>{organisationName}</p>
      <h1>{unit}: what is wrong?</h1>
      <div className={styles.stop}>
        <p>Stop at once if</p>
        <ul>
          {STOP_AT_ONCE.when.map((sign) => (
            <li key={sign}>{sign}.</li>
          ))}
        </ul>
        <p>{STOP_AT_ONCE.what}</p>
      </div>
      <KeptForm action={reportByLabel.bind(null, key)} submit="Tell the workshop">
        <ChoiceField
          name="kind"
          label="What is it?"
          options={DRIVER_REPORT_KINDS.map((value) => ({ value, label: DRIVER_KINDS[value] }))}
        />
        <AreaField
          name="words"
          label="Where and when, in a few words"
          hint="For example: knocks from below, uphill, since this morning."
        />
        <TextField
          name="odometer"
          label="Odometer, if you know it"
          unit={distance}
          inputMode="decimal"
          autoComplete="off"
        />
        <TextField name="driver" label="Your name, if you like" autoComplete="name" />
      </KeptForm>
      <p className={styles.foot}>
        Only the workshop of {organisationName} reads this. Type it while the vehicle stands, never while you
        drive.
      </p>
    </main>
  )
}
