import type { Metadata } from 'next'
import { readTerms } from '@/lib/store/read/terms'
import { readSites, readVehiclesForLabels, type VehicleForLabel } from '@/lib/store/read/vehicles-for-labels'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../require-person'
import { type Formats, formatsFor } from '../../ui/formats'
import { Frame } from '../../ui/frame'
import { CheckField, ChoiceField, KeptForm } from '../../ui/kept-form'
import { Link } from '../../ui/link'
import { PAGE_NAMES } from '../../ui/page-words'
import { SiteChoice } from '../../ui/site-choice'
import { printLabels } from './actions'
import { LABEL_SIZES, MOST_LABELS } from './label-words'
import styles from './labels.module.css'
import { type LabelsView, labelsAsked } from './labels-asked'

export const metadata: Metadata = { title: PAGE_NAMES.labels }

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

/** Which vehicles get a label with a code, by which their drivers report without signing in. */
export default async function LabelsPage({ searchParams }: Props) {
  const { database, organisation } = await requirePerson('enter-records')
  const view = labelsAsked(await searchParams)
  const { terms, sites, vehicles, total } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    sites: await readSites(scope),
    ...(await readVehiclesForLabels(scope, view, MOST_LABELS)),
  }))
  const formats = formatsFor(terms, terms.distance)
  return (
    <Frame here="labels" asOf={null} choices={[]}>
      <div className={styles.page}>
        <h1>{PAGE_NAMES.labels}</h1>
        <p className={styles.soft}>
          A label sticks where the driver sees it. Whoever scans it tells the workshop what is wrong, without
          signing in, and sees nothing but the vehicle’s number; what they say waits under{' '}
          <Link href="/reports">{PAGE_NAMES.reports}</Link>. Whoever may enter records comes to the vehicle
          instead.
        </p>
        <Find view={view} sites={sites} />
        {vehicles.length === 0 ? (
          <p>No vehicle is like that: clear a field above.</p>
        ) : (
          <Choose {...{ view, vehicles, total, formats }} />
        )}
      </div>
    </Frame>
  )
}

function Find({ view, sites }: { view: LabelsView; sites: string[] }) {
  return (
    <form className={styles.find} action="/labels" method="get" aria-label="Which vehicles">
      <label>
        Number, plate or chassis number
        <input name="q" defaultValue={view.search} autoComplete="off" />
      </label>
      <SiteChoice sites={sites} value={view.site} />
      <label>
        Labels
        <select name="without" defaultValue={view.without ? 'yes' : ''}>
          <option value="">with and without</option>
          <option value="yes">without a label yet</option>
        </select>
      </label>
      <button type="submit">Find</button>
      {view.units.length > 0 && <Link href="/labels">All vehicles again</Link>}
    </form>
  )
}

type ChooseProps = { view: LabelsView; vehicles: VehicleForLabel[]; total: number; formats: Formats }

function Choose({ view, vehicles, total, formats }: ChooseProps) {
  return (
    <KeptForm action={printLabels.bind(null, view)} submit="Labels of the ticked ones">
      <ChoiceField
        name="size"
        label="Size"
        value={view.size}
        options={Object.entries(LABEL_SIZES).map(([value, { words }]) => ({ value, label: words }))}
      />
      <div className={styles.acts}>
        <button type="submit" name="pressed" value="all">
          {total > vehicles.length
            ? `Labels of the first ${formats.count(vehicles.length)} of ${formats.count(total)}`
            : `Labels of all ${formats.count(total)} found`}
        </button>
        <button type="submit" name="pressed" value="anew">
          Make those of the ticked ones anew
        </button>
      </div>
      <fieldset className={styles.vehicles}>
        <legend>Vehicles</legend>
        {vehicles.map(({ unit, plate, site, labelledAt }) => (
          <CheckField
            key={unit}
            name={`pick:${unit}`}
            label={[
              [unit, plate, site].filter(Boolean).join(', '),
              labelledAt === null ? '' : `: has one since ${formats.moment(labelledAt)}`,
            ].join('')}
          />
        ))}
      </fieldset>
    </KeptForm>
  )
}
