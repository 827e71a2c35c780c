import type { Records } from '@/lib/records/rows'
import type { OdometerCause } from '@/lib/records/trusted-odometer'

/** What people read for what stands in records: each word defined here and nowhere else. */

type Row<Kind extends 'codes' | 'checks' | 'repairs' | 'changes' | 'vehicles'> = Records[Kind][number]

/** What a repair did. */
export const ACTIONS: Record<Row<'repairs'>['action'], string> = {
  renew: 'replaced',
  partial: 'freshened',
  temporary: 'quick fix',
  inspect: 'opened and looked at',
}

/** What opening it showed. */
export const FOUND: Record<NonNullable<Row<'repairs'>['found']>, string> = {
  failed: 'failed',
  developing: 'going',
  sound: 'good',
}

/** Why it was opened. */
export const BECAUSE: Record<NonNullable<Row<'repairs'>['because']>, string> = {
  failure: 'it had failed',
  sign: 'there was a sign',
  schedule: 'it was due',
  together: 'while we were in there',
  campaign: 'of a campaign',
}

/** The kinds of look, and what is only heard. */
export const LOOKS: Record<Row<'checks'>['kind'], string> = {
  scan: 'scan',
  visual: 'look by eye',
  road: 'drive',
  measure: 'measurement',
  lamp: 'look at the engine lamp',
  report: 'driver says',
}

export const CHANGES: Record<Row<'changes'>['kind'], string> = {
  'engine-new': 'new engine',
  'engine-used': 'used engine',
  'engine-rebuilt': 'rebuilt engine',
  cluster: 'new instrument cluster',
  owner: 'new owner',
  'gap-from': 'records are missing from here',
  'gap-to': 'records go on here',
}

/** What a change means for the chances. */
export const CHANGE_MEANS: Record<Row<'changes'>['kind'], string> = {
  'engine-new': 'every weak point begins anew, at nought',
  'engine-used':
    'every weak point goes on at what that engine had run, and what was done to it before is not known',
  'engine-rebuilt': 'it counts as new: every weak point begins anew, at nought',
  cluster:
    'the engine is as old as it was; only the count begins anew, and what was run before is added to it',
  owner: 'the chances stay as they are',
  'gap-from': 'what happens until they go on is not known, and is not taken for nothing',
  'gap-to': 'from here on everything is on record again; each part may have been replaced meanwhile',
}

/** How a control unit keeps a code. */
export const CODE_STATES: Record<NonNullable<Row<'codes'>['state']>, string> = {
  stored: 'stored',
  pending: 'pending: not sure yet',
  permanent: 'permanent: it cannot be cleared by hand',
}

export const PAID_BY: Record<NonNullable<Row<'repairs'>['paidBy']>, string> = {
  own: 'ourselves',
  customer: 'the customer',
  supplier: 'the supplier of the part',
  maker: 'the maker',
  warranty: 'a warranty',
}

/** The fields of a record, by the column that keeps each in a file. */
export const RECORD_FIELDS: Record<string, string> = {
  unit: 'Vehicle',
  read_on: 'Read on',
  seen_on: 'Seen on',
  checked_on: 'Looked on',
  done_on: 'Done on',
  on: 'On',
  cleared_on: 'Cleared on',
  entered_on: 'Written down on',
  odometer_km: 'Odometer (km)',
  engine_hours: 'Engine hours',
  engine_km: 'A used engine had run (km)',
  offset_km: 'Run before the new instrument (km)',
  km_since_cleared: 'Run since codes were cleared (km)',
  source: 'Where the reading comes from',
  code: 'Trouble code',
  state: 'How it was kept',
  lamp: 'Was the engine lamp on?',
  kind: 'What kind',
  seen: 'Signs that were seen',
  looked_for: 'Signs that were looked for',
  weak_point: 'Weak point',
  positions: 'Cylinders, banks or other places',
  action: 'What was done',
  revision: 'Part version',
  found: 'What it showed',
  because: 'Why it was opened',
  restored: 'Share of the age taken away',
  parts_cost: 'Parts cost',
  labour_hours: 'Hours',
  paid_by: 'Who paid',
  supplier: 'Supplier',
  batch: 'Batch',
  note: 'Note',
  ref: 'Your own key of the record',
}

/** Why a reading is not counted. */
export const ODOMETER_CAUSES: Record<OdometerCause, string> = {
  'roll-back': 'wound back',
  'unit mix-up': 'kilometres and miles mixed up',
  'digit slip': 'a digit slipped',
  'swapped vehicle': 'of another vehicle',
  'cluster replacement': 'a new instrument cluster',
  'second source': 'a second count beside the instrument',
  unexplained: 'does not fit the others, cause not known',
}

export const STATUSES: Record<Row<'vehicles'>['status'], string> = {
  active: 'in use',
  stock: 'in stock',
  sold: 'sold',
  retired: 'retired',
}

export const HISTORIES: Record<Row<'vehicles'>['history'], string> = {
  full: 'its history is known',
  none: 'nothing is known of the time before its records',
}
