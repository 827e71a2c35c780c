import crypto from 'node:crypto'
import { logEvent } from '@/lib/log/log-event.mjs'
import { actingAs, type Database } from '@/lib/store/database'
import { type OrganisationId, organisationId } from '@/lib/store/organisation-id'
import { readLabelToCheck } from '@/lib/store/read/label-to-check'
import { withOrganisation } from '@/lib/store/with-organisation'
import { countAttempt } from '@/lib/store/write/count-attempt'
import { hashed, hashedAddress } from './inner/client-address'
import { addressMark } from './inner/marks'
import { parseLabelKey } from './label-key'

/** A vehicle whose label somebody holds: all that may be known of it without signing in. */
export type LabelledVehicle = {
  organisation: OrganisationId
  organisationName: string
  unit: string
  /** In the hands of whoever holds the label. */
  database: Database
}

/**
 * The vehicle of a label.
 *
 * @param key what stands on it after `/q/`
 * @returns null for a label that nobody made, or that was made anew since
 */
export async function vehicleOfLabel(database: Database, key: string): Promise<LabelledVehicle | null> {
  const parsed = parseLabelKey(key)
  if (!parsed) return null
  const organisation = organisationId(parsed.organisation)
  const label = await withOrganisation(database, organisation, (scope) => readLabelToCheck(scope, parsed.id))
  if (!label || !crypto.timingSafeEqual(label.secret, parsed.secret)) return null
  const { organisationName, unit } = label
  return {
    ...{ organisation, organisationName, unit },
    database: actingAs(database, { kind: 'label', id: parsed.id }),
  }
}

/** Reports within a minute: by one label, and from one address of the network by any. */
const REPORTS = { label: 4, address: 10 }

/**
 * Counts one more report by a label.
 *
 * @param headers of the request
 * @returns whether it is one too many
 */
export async function tooManyReports(
  database: Database,
  { key, headers, now }: { key: string; headers: Headers; now: Date },
): Promise<boolean> {
  const label = await countAttempt(database, { key: `label ${hashed(key)}`, now })
  const address = await countAttempt(database, { key: `report ${hashedAddress(headers)}`, now })
  const limit = label > REPORTS.label ? 'label' : address > REPORTS.address ? 'address' : null
  if (limit !== null) logEvent('rate limit hit', { limit, from: addressMark(headers) })
  return limit !== null
}
