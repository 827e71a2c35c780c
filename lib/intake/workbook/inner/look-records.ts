/** What a row tells of looks: codes that were read, signs that were seen, and looks that saw nothing. */
import type { Family, Sign } from '@/lib/records/library'
import { LAMP_ON } from '@/lib/records/rows'
import { type Answers, type Mapping, saidOf, wordKey } from '../mapping'
import { isNoCodes, NO_CODES, oneLine, readCodes } from '../read-cells'
import type { SaidRow } from './said-rows'
import type { FileRecord } from './table-file'

export interface LookGround {
  values: Mapping['values']
  answers: Answers
  /** The vehicle's engine; null where the library does not have it. */
  family: Family | null
  families: readonly Family[]
}

export interface LookRecords {
  codes: FileRecord[]
  checks: FileRecord[]
  /** Words of what was seen that stand for no sign of this engine: kept, without effect. */
  beside: number
}

/** The codes of a row, and the scan that found none or that is said to have found all. */
export function codeRecords(row: SaidRow, { values, answers }: LookGround): LookRecords {
  const reads = row.several.codes.map((text) => readCodes(text, values.codes))
  const codes = reads.flatMap((read) => (typeof read === 'string' ? [] : read.codes))
  const said = { state: row.values.codeState, lamp: row.values.lamp, cleared_on: row.values.clearedOn }
  const records = codes.map((code) => record({ code, ...said }))
  const sawNothing = codes.length === 0 && reads.includes('nothing-seen')
  const scanned = sawNothing || (codes.length > 0 && answers.looksCover === 'all')
  const checks = scanned ? [look(row, 'scan', [], '')] : []
  if (codes.length === 0 && !scanned) checks.push(...lampLooks(row, answers))
  return { codes: records, checks, beside: 0 }
}

/** The lamp is on and nobody has read why; that it is off says something only where it was looked at each time. */
function lampLooks(row: SaidRow, { looksCover }: Answers): FileRecord[] {
  if (row.values.lamp === 'yes') return [look(row, 'lamp', [LAMP_ON], looksCover === 'all' ? '' : LAMP_ON)]
  return row.values.lamp === 'no' && looksCover === 'all' ? [look(row, 'lamp', [], '')] : []
}

/** The signs of a row, one check for each kind of look. */
export function signRecords(row: SaidRow, ground: LookGround): LookRecords {
  const read = row.several.signs.map((text) => signsIn(text, ground))
  const seen = [...new Set(read.flatMap(({ keys }) => keys))]
  const untied = read.flatMap((each) => each.untied)
  const words = row.several.signs.map(oneLine).join('; ')
  const checks = byKind(seen, row, ground).map(([kind, keys]) =>
    look(row, kind, keys, ground.answers.looksCover === 'all' || kind === 'report' ? '' : keys.join(' ')),
  )
  if (checks.length === 0 && read.some(({ nothing }) => nothing)) {
    // "ok" in a column of what is seen: of which signs, only the answer says.
    const kind = row.values.lookKind || 'visual'
    checks.push(look(row, ground.answers.looksCover === 'all' ? kind : 'report', [], ''))
  } else if (untied.length > 0 && checks.length === 0) checks.push(look(row, 'report', [], ''))
  for (const { notes } of checks) notes['in words'] = words
  return { codes: [], checks, beside: untied.length }
}

const look = (row: SaidRow, kind: string, seen: readonly string[], lookedFor: string): FileRecord =>
  record({
    kind,
    seen: seen.join(' '),
    looked_for: lookedFor,
    km_since_cleared: kind === 'scan' ? row.values.kmSinceCleared : '',
  })

const record = (cells: Record<string, string | undefined>): FileRecord => ({
  cells: Object.fromEntries(Object.entries(cells).map(([column, text]) => [column, text ?? ''])),
  notes: {},
})

const BETWEEN_SIGNS = /[;,\n\r•|+&/]+|\s(?:and|und|et|y)\s/gi

type SignsRead = { keys: string[]; untied: string[]; nothing: boolean }

/** The signs of a cell: all of it stands for something, or each of the parts of a list. */
function signsIn(text: string, ground: LookGround): SignsRead {
  const whole = signsOf(text, ground)
  if (whole) return whole
  const read: SignsRead = { keys: [], untied: [], nothing: false }
  for (const part of text.split(BETWEEN_SIGNS).filter((each) => each.trim() !== '')) {
    const found = signsOf(part, ground) ?? { keys: [], untied: [part.trim()], nothing: false }
    read.keys.push(...found.keys)
    read.untied.push(...found.untied)
    read.nothing ||= found.nothing
  }
  return read
}

function signsOf(text: string, { values, family, families }: LookGround): SignsRead | null {
  const key = wordKey(text)
  const word = saidOf(values.signs, key) ?? (isNoCodes(key) ? NO_CODES : undefined)
  if (word === undefined) return null
  if (word === NO_CODES) return { keys: [], untied: [], nothing: true }
  const keys = word.split(/\s+/).filter((each) => each !== '')
  const known = keys.filter((each) => kindOf(each, family ? [family] : families) !== null)
  return { keys: known, untied: known.length === 0 ? [text.trim()] : [], nothing: false }
}

const CHECK_OF: Record<Sign['kind'], string> = {
  code: 'scan',
  visual: 'visual',
  road: 'road',
  measure: 'measure',
}

/** By what kind of look a sign is seen; null where these engines do not have it. */
function kindOf(key: string, families: readonly Family[]): string | null {
  const [name] = key.split('@')
  if (name === LAMP_ON) return 'lamp'
  for (const { signs } of families) {
    const sign = signs.find((each) => each.key === name)
    if (sign) return CHECK_OF[sign.kind]
  }
  return null
}

function byKind(
  keys: readonly string[],
  row: SaidRow,
  { family, families }: LookGround,
): [string, string[]][] {
  const kinds = new Map<string, string[]>()
  for (const key of keys) {
    const kind = row.values.lookKind || (kindOf(key, family ? [family] : families) ?? 'visual')
    kinds.set(kind, [...(kinds.get(kind) ?? []), key])
  }
  return [...kinds]
}
