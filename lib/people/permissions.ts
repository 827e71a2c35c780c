import type { Role } from '@/lib/store/role'

/** Who may do what: the one table. Every act names the roles that may do it. */
const MAY = {
  /** See everything that the organisation has recorded, and take it out as files. */
  read: ['owner', 'planner', 'technician', 'reader'],
  /** At the vehicle: a reading, a code, a look, a repair; correct and withdraw them; a new vehicle. */
  'enter-records': ['owner', 'planner', 'technician'],
  /** Say that a driver was told to stop, that the vehicle is parked, or that it may go again. */
  'answer-stops': ['owner', 'planner', 'technician'],
  /** Say what became of a proposal: who was told, what they answered, when it is booked, that it was done. */
  'answer-proposals': ['owner', 'planner', 'technician'],
  /** Give a view of the watchlist a name for everybody. */
  'save-views': ['owner', 'planner', 'technician'],
  /** Whole files of records, and taking them back. */
  'bring-in-records': ['owner', 'planner'],
  /** Say how many of a part there are, are to come, and what they cost. */
  'keep-parts': ['owner', 'planner', 'technician'],
  /** Propose jobs, and plan them. */
  plan: ['owner', 'planner'],
  'edit-library': ['owner', 'planner'],
  /** What the organisation is called, what its numbers are told in, prices and limits. */
  'edit-terms': ['owner'],
  'manage-tokens': ['owner'],
  /** Which address is told of stops, and what signs that. */
  'manage-webhook': ['owner'],
  'manage-people': ['owner'],
  /** See who changed what: it tells what each of them did, hour by hour, and what rows said of customers. */
  'read-audit': ['owner'],
  /** Take out what is known of a customer, and erase it for good. */
  'erase-customers': ['owner'],
} as const satisfies Record<string, readonly Role[]>

export type Act = keyof typeof MAY
export const ACTS = Object.keys(MAY) as Act[]

/** Whether a role may do an act. */
export function can(role: Role, act: Act): boolean {
  return (MAY[act] as readonly Role[]).includes(role)
}
