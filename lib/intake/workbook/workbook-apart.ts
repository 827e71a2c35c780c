import { ProcessApart } from '@/lib/replay/process-apart'
import type { Applied, ApplyGround } from './applied'
import type { Mapping } from './mapping'
import type { WorkbookProfile } from './profile'
import type { HeaderRows } from './profile-workbook'
import type { Answered, Told } from './workbook-process'

/** A file as it came. */
export interface WorkbookFile {
  name: string
  bytes: Uint8Array
}

/** What one workbook may ask for; a bomb asks for more. */
export interface ReadingLimits {
  seconds: number
  /** Of what is held, without the unpacked file. */
  megabytes: number
}

/** A hundred thousand rows of twelve columns take six seconds of a processor and 0.5 GB (measured). */
const LIMITS: ReadingLimits = { seconds: 60, megabytes: 1536 }

/** While it is being read or made into files. */
export interface Attending {
  /** Is told the share that is done, from 0 to 1. */
  onShare?: (done: number) => void
  limits?: ReadingLimits
}

type Refused = { ok: false; reason: string }

/**
 * Reads a workbook and finds out what it looks like, in a process of its own: one that asks for too much ends that
 * process, and whoever asked is told so.
 */
export async function profileApart(
  { name, bytes, headerRows }: WorkbookFile & { headerRows?: HeaderRows | null },
  attending: Attending = {},
): Promise<{ ok: true; profile: WorkbookProfile } | Refused> {
  const answered = await askApart({ ask: 'profile', name, bytes, headerRows: headerRows ?? {} }, attending)
  return answered.answer === 'profile' ? { ok: true, profile: answered.profile } : refused(answered)
}

/** Reads a workbook and makes files of it, in a process of its own. */
export async function applyApart(
  {
    name,
    bytes,
    profile,
    mapping,
    ground: { families, today, standing },
  }: WorkbookFile & { profile: WorkbookProfile; mapping: Mapping; ground: ApplyGround },
  attending: Attending = {},
): Promise<({ ok: true } & Applied) | Refused> {
  const ground = { families, today, standing: [...(standing ?? [])] }
  const answered = await askApart({ ask: 'apply', name, bytes, profile, mapping, ground }, attending)
  return answered.answer === 'applied' ? { ok: true, ...answered.applied } : refused(answered)
}

type Last = Exclude<Answered, { answer: 'share' }>

const refused = (answered: Last): Refused => ({
  ok: false,
  reason: answered.answer === 'refused' ? answered.reason : BROKE_OFF,
})

const BROKE_OFF = 'The process that reads workbooks ended without a word'

async function askApart(told: Told, { onShare, limits = LIMITS }: Attending): Promise<Last> {
  const script = new URL('./workbook-process.ts', import.meta.url)
  const child = new ProcessApart<Told, Answered>(script, BROKE_OFF, { most: limits.megabytes })
  const timer = setTimeout(() => child.end(), limits.seconds * 1000)
  try {
    return await child.ask(told, (answered) => {
      if (answered.answer !== 'share') return answered
      onShare?.(answered.done)
      return null
    })
  } catch {
    return { answer: 'refused', reason: tooMuch(limits) }
  } finally {
    clearTimeout(timer)
    child.end()
  }
}

const tooMuch = ({ seconds, megabytes }: ReadingLimits): string =>
  `It could not be read within ${seconds} seconds and ${megabytes} MB of memory: take out sheets, pictures or empty rows, or save the sheet as CSV`
