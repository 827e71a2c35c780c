import type { Cause } from '@/lib/intake/causes'
import type { RejectedGroup } from '@/lib/intake/group-rejected'
import type { FileKind } from '@/lib/intake/kind-of-file'
import type { Mend } from '@/lib/intake/mends'
import type { Intake } from '@/lib/store/read/intake'

/** What each kind of file holds. */
export const KINDS: Record<FileKind, string> = {
  vehicles: 'vehicles',
  readings: 'odometer readings',
  codes: 'trouble codes',
  checks: 'looks',
  repairs: 'repairs',
  changes: 'changes of engine, owner, instrument',
  parts: 'parts: on hand, on order, lead time, price',
  library: 'engine families',
  settings: 'settings',
}

/** What mends rows that were refused for one cause. */
export const REMEDIES: Record<Cause, string> = {
  file: 'Mend the file and bring it in again.',
  unit: 'Correct the number, or bring in a file of vehicles that has it.',
  'second-row': 'Leave one row for each vehicle, or part.',
  date: 'Write days like 2026-06-30.',
  future: 'Correct the day: nothing can have happened yet.',
  number: 'Write numbers with digits and a point, like 84210.5.',
  blank: 'Fill the cell.',
  code: 'Write the code as the tool shows it, like P0302 or 94:18.',
  word: 'Use one of the words that are known.',
  position: 'Use a position that this weak point or sign has.',
  sign: 'Write the key of a sign, or key@3 for position 3.',
  bytes: 'Save the file as “CSV UTF-8”.',
  quote: 'Close the quote, or leave quotes out.',
  cells: 'Take out what is too much: a comma inside a cell needs quotes around it.',
  'too-long': 'Shorten the cell.',
  other: 'Correct the row.',
}

/** For what rows of other files wait: that is mended first, and they are no faults of their own. */
export function waitingWords(group: RejectedGroup, count: (n: number) => string): string {
  const { files, waiting, waitingIn } = group
  const where = (waitingIn ?? []).map(([name]) => name).join(', ') || 'other files'
  const rows = waiting === 1 ? `1 row of ${where} waits` : `${count(waiting)} rows of ${where} wait`
  const first = files.map(([name]) => name).join(', ')
  const they = waiting === 1 ? 'it goes' : 'they go'
  return `${rows} for ${awaitedWords(group, count)}: mend ${first} first, and ${they} in with it.`
}

function awaitedWords({ cause, rows, awaited }: RejectedGroup, count: (n: number) => string): string {
  if (awaited === undefined) return 'this alone'
  if (cause === 'file') return awaited === 1 ? '1 vehicle' : `${count(awaited)} vehicles`
  if (awaited < rows) return `${count(awaited)} of these vehicles`
  return awaited === 1 ? 'this vehicle' : `these ${count(awaited)} vehicles`
}

/** What one press does to all rows of a group. */
export function mendWords(mend: Mend): string {
  if (mend.how === 'replace') return `Read “${mend.from}” as “${mend.to}” everywhere`
  if (mend.how === 'date') return `Read all as ${mend.order.replaceAll('-', ', ')}`
  if (mend.how === 'encoding') return 'Read the file as Western (Windows-1252)'
  return mend.decimal === ',' ? 'Read the comma as the decimal mark' : 'Read the point as the decimal mark'
}

/** Where files that were brought in stand. */
export function stateWords({ state, job }: Pick<Intake, 'state' | 'job'>): string {
  if (job?.state === 'running') return UNDER_WAY[job.kind] ?? 'under way'
  return STATES[state]
}

const UNDER_WAY: Record<string, string> = {
  'intake-read': 'being read',
  'intake-enter': 'going in',
  'intake-take-back': 'being taken back',
  'intake-bring-back': 'being brought back',
}

const STATES: Record<Intake['state'], string> = {
  staged: 'to be looked over',
  done: 'in',
  'taken-back': 'taken back',
  failed: 'stopped half way',
}

/** What can go wrong before files are laid aside, in words; undefined where nothing did. */
export function problemWords(problem: string | undefined, mostMegabytes: number): string | undefined {
  const words: Record<string, string> = {
    nothing: 'No file was chosen. Choose one or more, or drop them on the field.',
    'too-large': `Together the files are more than the ${mostMegabytes} MB that are taken at once, and nothing of them was kept. Split them, by year for instance, and bring in the parts one after the other.`,
    'cut-off': 'The files did not arrive whole. Send them again.',
  }
  return problem !== undefined && Object.hasOwn(words, problem) ? words[problem] : undefined
}
