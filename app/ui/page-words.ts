/** What pages and papers are called, and the ways to them: each defined here and nowhere else. */

/** What people come to the pages for. */
export const PAGE_GROUPS = {
  work: 'What to do',
  people: 'Whom to ask',
  sale: 'For sale',
  knowledge: 'What we know',
  house: 'The house',
}

/** What the pages are called. */
export const PAGE_NAMES = {
  watchlist: 'Watchlist',
  plan: 'Plan',
  intake: 'Bring in records',
  families: 'Engine families',
  trackRecord: 'Track record',
  visits: 'Visits',
  proposals: 'Proposals',
  calls: 'Calls',
  looks: 'Looks',
  faultFinding: 'Fault finding',
  reports: 'Drivers’ reports',
  digest: 'The week',
  labels: 'Labels',
  stock: 'Stock',
  bid: 'Bid',
  parts: 'Parts',
  money: 'Policy and money',
  settings: 'Settings',
  atVehicle: 'At the vehicle',
  audit: 'Audit trail',
}

/** Who belongs to the organisation; and whoever is signed in. */
export const PEOPLE = 'People'

export const YOU = 'You'

/** Taking in an engine of somebody else's library. */
export const TAKE_IN = 'Take in an engine'

/** The one thing to do from anywhere. */
export const NEW_VEHICLE = 'New vehicle'

/** Where things are entered beside the vehicle, on a phone. */
export const AT_VEHICLE = PAGE_NAMES.atVehicle

/** The page on what was said of a part before it failed. */
export const WHAT_WE_SAID = 'What we said'

/** What to do when it comes next, together; and what was proposed of it. */
export const NEXT_VISIT = 'Next visit'

export const PROPOSALS = PAGE_NAMES.proposals

export const JOB_CARD = 'Job card'

export const ONTO_PLAN = 'Accept onto the plan'

/** A paper as a file, beside the page that can be printed. */
export const AS_PDF = 'As a PDF, one page'

export const FIND_FAULT = 'Find the fault'

export const LOOK_SHEET = 'Look sheet'

/** What is kept back for what may fail under cover. */
export const SET_ASIDE = 'Set aside'

/** Which job pays before a vehicle is sold. */
export const BEFORE_SALE = 'What to fix before sale'

/** Papers of a vehicle for sale: for whoever may buy it, and for the house alone. */
export const STOCK_SHEET = 'Stock sheet'

export const STOCK_FILE = 'Stock file'

export const LETTER = 'Letter'

/** Everything known of one of them. */
export const CUSTOMER = 'Customer'

export const KNOWN_OF_CUSTOMER = 'what is known of this customer'
