/** Which tables go with an organisation when it moves, and which stay. Every table of an organisation is in one of the two lists. */

/**
 * What an archive holds row by row, in the order in which rows refer to each other, with the columns that stay: they
 * follow from the rest and are reckoned again.
 */
export const MOVED_TABLES: Readonly<Record<string, readonly string[]>> = {
  libraries: [],
  library_drafts: [],
  family_takings: [],
  fits: [],
  replays: [],
  intakes: [],
  intake_files: [],
  rejected_rows: [],
  workbooks: [],
  vehicles: [
    ...['records_version', 'scored_from'],
    ...['usage_facts', 'usage_facts_version', 'usage_facts_as_of'],
  ],
  vehicle_versions: [],
  readings: [],
  codes: [],
  checks: [],
  repairs: [],
  changes: [],
  // What was said on past days cannot be reckoned again: the library and the records were others then.
  score_history: [],
  stop_notices: [],
  proposals: [],
  proposal_acts: [],
  part_lines: [],
  letters: [],
  letter_opt_outs: [],
  photographs: [],
  driver_reports: [],
  driver_report_acts: [],
  cover_terms: [],
  plan_terms: [],
  plans: [],
  plan_visits: [],
  plan_work: [],
  plan_closed: [],
  plan_acts: [],
  saved_views: [],
}

/** What stays where it is, and why. */
export const STAYING_TABLES: Readonly<Record<string, string>> = {
  vehicle_scores: 'scored again on arrival',
  component_scores: 'scored again on arrival',
  class_rates: 'reckoned again from the readings',
  stock_amounts: 'reckoned again from scores and terms',
  stock_lots: 'reckoned again from the vehicles in stock',
  money_reports: 'reckoned again from records and library',
  jobs: 'work under way in this installation; what was asked and is not done is asked again',
  vehicle_labels:
    'their codes name the organisation, which is another where it arrives: labels are printed anew',
  digest_wishes: 'accounts do not travel, and mail goes to accounts',
  digest_mails: 'what was sent from this installation',
  tokens: 'secrets of this installation; whoever sends records gets a new one',
  webhooks: 'an address with the secret that signs what it is told; told anew where the organisation arrives',
  webhook_deliveries: 'what was told from here',
  idempotency_keys: 'answers to what tokens and phones have sent here; neither sends it elsewhere',
  audit_lines:
    'who changed what in this installation, chained where it was written: it stays, and the arrival is written down there',
  erasures: 'which lines of the audit trail lost what they said: they stay',
  invitations: 'links of this installation, that name the organisation; accounts do not travel',
  memberships: 'accounts do not travel: the organisation has a new owner where it arrives',
}

/** The rows of one table as text, a value a column, as PostgreSQL writes and reads them. */
export type MovedTable = { name: string; columns: string[]; rows: (string | null)[][] }

/** Somebody who is named in rows by an id: a person, or a token that has sent records. */
export type NamedInRows = { id: string; name: string }

/** An organisation, whole: everything of it that cannot be reckoned again. */
export type MovedRows = { tables: MovedTable[]; people: NamedInRows[] }
