import type { Clock, Confidence, Sign, WeakPoint } from '@/lib/records/library'

/** What a library says of its engines, weak points and signs, in words. Each is defined once, here. */

/** Of an engine that is taken in: whose a statement is, and who changed it. */
export const MERGE_SIDES = { mine: 'Yours', theirs: 'Theirs' }

export const MERGE_CHANGED_BY = {
  both: 'Both of you changed it',
  unknown: 'The two of you differ',
  mine: 'You changed it, they did not; yours stands',
  theirs: 'They changed it, you did not; theirs is taken',
}

/** Where a statement of an engine was to be looked at again by a day that has passed. */
export const REVIEW_DUE = 'A review is due'

/** How sure the author of a statement is, and what that means for its figures. */
export const CONFIDENCE: Record<Confidence, { word: string; meaning: string }> = {
  hunch: { word: 'a hunch', meaning: 'a feeling; the true figure may well be half or twice as much' },
  experience: { word: 'experience', meaning: 'seen many times; right to within a half, four times in five' },
  documented: {
    word: 'documented',
    meaning: 'counted or published; right to within a sixth, four times in five',
  },
}

/** What a weak point ages by. */
export const CLOCKS: Record<Clock, string> = {
  distance: 'by distance',
  hours: 'by engine hours',
  time: 'by time',
}

/** What is due once it has failed. */
export const SEVERITIES: Record<WeakPoint['severity'], string> = {
  stop: 'do not drive',
  soon: 'mend it soon',
  plan: 'can be planned in',
}

export const HARM = 'can harm people'

/** How long a part lasts, told in several ways beside each other. */
export const LIFE_LINES = {
  started: 'Has begun to go',
  failed: 'Has failed',
  stated: 'Failed, as stated',
  counted: 'Counted: failed or found going',
  learnedBand: 'failed, as learned, in its band',
  statedBand: 'failed, as stated, in its band',
  dashes: 'has begun to go',
  thin: 'failed, as stated',
  steps: 'failed or found going, as counted',
}

/** How the lives of parts ended. */
export const LIFE_ENDS = {
  failed: 'failed',
  developing: 'found going',
  sound: 'found good',
  renewed: 'replaced, nothing written down',
  running: 'still running, or lost from sight',
  unknownStart: 'left out: nobody knows when they began',
  beforeWatch: 'left out: ended before your records began',
}

/** How a sign is found. */
export const SIGN_KINDS: Record<Sign['kind'], string> = {
  code: 'read out as a trouble code',
  visual: 'seen by eye',
  road: 'noticed on the road',
  measure: 'measured',
}

export const DUTIES: Record<keyof WeakPoint['duty'], string> = {
  short: 'short trips',
  mixed: 'mixed use',
  long: 'long runs',
}

export const NO_CAUTIONS = 'None recorded here; follow the maker’s instructions.'
