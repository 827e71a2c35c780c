import type { ProposalState, Verdict, WayToTell } from '@/lib/decisions/proposals'
import type { Forecaster, Rival } from '@/lib/replay/judge'
import type { Standing as CountStanding } from '@/lib/replay/verdict'

/** What was said, proposed and told, whom to call, and how it came out, in words. Each is defined once, here. */

/** Who says how likely a part is to fail: these scores, and plainer ways to know. */
export const FORECASTER_WORDS: Record<Forecaster, string> = {
  product: 'These scores',
  ages: 'Ages alone, as if nobody had ever looked',
  library: 'The library alone, nothing learned',
  mileage: 'The odometer alone',
  intervals: 'Fixed intervals',
}

/** What holding the scores against each of them tells. */
export const RIVAL_WORDS: Record<Rival, string> = {
  ages: 'What looking is worth',
  library: 'What learning is worth',
  mileage: 'Against the odometer alone',
  intervals: 'Against fixed intervals',
}

/** How what came stands to what was expected. */
export const STANDING_WORDS: Record<CountStanding, string> = {
  'as-said': 'as said',
  fewer: 'fewer failed than said',
  more: 'more failed than said',
  untold: 'cannot be told: states not noted',
}

/** Chances that nobody was told then. */
export const WORKED_OUT = 'worked out afterwards'

/** Column headings of what was said. */
export const SAID_COLUMNS = {
  day: 'Day',
  advice: 'Advice',
  chance: 'Chance',
  cameTrue: 'Of such chances here',
  known: 'Known by then',
  unlooked: 'Not looked for',
  followed: 'What was done',
}

/** How a proposal stands. */
export const PROPOSAL_STATES: Record<ProposalState, string> = {
  made: 'proposed; nobody has been told',
  told: 'told; no answer yet',
  accepted: 'accepted',
  declined: 'declined',
  'put-off': 'put off',
  booked: 'booked',
  done: 'done',
  found: 'done, and written up',
  dropped: 'dropped',
}

/** How somebody was told of a proposal. */
export const WAYS_TO_TELL: Record<WayToTell, string> = {
  'in-person': 'in person',
  call: 'by a call',
  message: 'by a message',
  letter: 'by letter',
}

/** What a proposal turned out to be, as the heading of a count. */
export const VERDICTS: Record<Verdict, string> = {
  'yes-and-due': 'Yes, and it was due',
  'yes-and-good': 'Yes, the part was good',
  'not-noted': 'Done, nobody noted what was found',
  'no-and-failed': 'No, then failed',
  'no-and-going': 'No, later found going',
  'no-and-good': 'No, later found good',
  'no-and-runs': 'No, and it runs',
  'undecided-and-failed': 'Failed before an answer',
}

/** What to do about a customer's vehicle, the most urgent first. */
export const CALL_KINDS = {
  telephone: 'Telephone today',
  write: 'Worth writing to',
  'ask-first': 'Ask first',
  silent: 'Nobody writes',
}

/** Column headings of the calls, and what each says in one sentence. */
export const CALL_COLUMNS = {
  vehicle: { heading: 'Vehicle', meaning: 'Its number, plate and engine.' },
  customer: { heading: 'Customer', meaning: 'Whose it is now, and how to reach them.' },
  saving: {
    heading: 'Saves them',
    meaning:
      'What the jobs save at the customer’s prices against leaving them three months, with its 80 % band.',
  },
  jobs: { heading: 'Jobs', meaning: 'What pays for them even at the low end of its band.' },
  price: { heading: 'Price', meaning: 'Parts and hours at the customer’s prices; the visit not counted.' },
  chance: {
    heading: 'One fails within three months',
    meaning: 'The chance that any of these parts fails within 90 days if they are left.',
  },
  nothing: {
    heading: 'Spent for nothing',
    meaning: 'The chance that every one of these parts is still good when it is opened.',
  },
  heard: { heading: 'Last record', meaning: 'The last day that any record of the vehicle is about.' },
  why: { heading: 'Why', meaning: 'What stands against a letter.' },
  letter: { heading: 'Letter', meaning: 'The letter, to be read before it is sent.' },
}
