/** A workbook on its whole way: looked at, guessed at, made into files, read like any others. */
import { readStaged, type StagedRead } from '@/lib/intake/read-staged'
import type { RowKind } from '@/lib/intake/tables'
import type { Applied, ApplyGround } from '@/lib/intake/workbook/applied'
import { applyMapping } from '@/lib/intake/workbook/apply'
import { guessMapping } from '@/lib/intake/workbook/guess'
import type { Answers, Mapping } from '@/lib/intake/workbook/mapping'
import type { WorkbookProfile } from '@/lib/intake/workbook/profile'
import { profileWorkbook } from '@/lib/intake/workbook/profile-workbook'
import type { Workbook } from '@/lib/intake/workbook/sheets'
import type { Library } from '@/lib/records/library'
import { exampleLibrary } from '../../records/example-library'
import { TODAY } from '../folder'

export const groundOf = (library: Library, remembered: readonly Mapping[] = []) => ({
  families: library.families,
  today: TODAY,
  distance: 'km' as const,
  remembered,
})

export interface Way {
  library?: Library
  standing?: { unit: string; family: string }[]
  remembered?: readonly Mapping[]
  /** What people answer, of every sheet. */
  answers?: Partial<Answers>
  /** What else they change. */
  change?: (mapping: Mapping) => void
}

export interface BroughtIn extends Applied {
  profile: WorkbookProfile
  mapping: Mapping
  read: StagedRead
  /** The lines of a kind's files, by their number. */
  lines: (kind: RowKind) => string[]
  /** The rejected rows as `line column: reason`. */
  rejected: string[]
}

export function bringIn(workbook: Workbook, way: Way = {}): BroughtIn {
  const { library = exampleLibrary(), standing = [], remembered = [], answers = {}, change } = way
  const profile = profileWorkbook(workbook)
  const mapping = guessMapping(profile, groundOf(library, remembered))
  for (const sheet of Object.values(mapping.sheets)) Object.assign(sheet.answers, answers)
  change?.(mapping)
  const ground: ApplyGround = { families: library.families, today: TODAY, standing }
  const applied = applyMapping({ name: 'book.xlsx', workbook, profile, mapping, ground })
  const read = readStaged(applied.files, { library, currency: null, today: TODAY, standing })
  const rejected = [...read.tables, ...read.parts].flatMap((table) =>
    table.rejected.map(({ line, column, reason }) => `${table.kind}:${line} ${column}: ${reason}`),
  )
  const lines = (kind: RowKind) =>
    applied.files.filter((file) => file.kind === kind).flatMap(({ bytes }) => textOf(bytes).split('\r\n'))
  return { ...applied, profile, mapping, read, lines, rejected }
}

const textOf = (bytes: Uint8Array) => new TextDecoder().decode(bytes)
