import { writeLabelKey } from '@/lib/people/label-key'
import { readLabels } from '@/lib/store/read/labels'
import { readTerms } from '@/lib/store/read/terms'
import { readVehiclesForLabels } from '@/lib/store/read/vehicles-for-labels'
import { withOrganisation } from '@/lib/store/with-organisation'
import { publicAddress } from '../../public-address'
import type { requirePerson } from '../../require-person'
import { MOST_LABELS } from './label-words'
import type { LabelsView } from './labels-asked'
import { type QrPath, qrPath } from './qr-path'

/** A label as it is printed. */
export type PrintedLabel = { unit: string; address: string; qr: QrPath }

type Present = Pick<Awaited<ReturnType<typeof requirePerson>>, 'database' | 'organisation'>

/** The labels that an address asks for, and how many of its vehicles have none, or find no room. */
export async function readLabelsAsked({ database, organisation }: Present, view: LabelsView) {
  const { terms, labels, total } = await withOrganisation(database, organisation, async (scope) => {
    // Once they are made, none is without: what was to be printed is asked for as it was.
    const { vehicles, total } = await readVehiclesForLabels(scope, { ...view, without: false }, MOST_LABELS)
    const units = vehicles.map(({ unit }) => unit)
    return { terms: await readTerms(scope), labels: await readLabels(scope, units), total }
  })
  const from = await publicAddress()
  const printed = labels.map(({ id, unit, secret }): PrintedLabel => {
    const address = `${from}/q/${writeLabelKey({ organisation, id, secret: Buffer.from(secret) })}`
    return { unit, address, qr: qrPath(address) }
  })
  return { terms, labels: printed, missing: total - printed.length }
}
