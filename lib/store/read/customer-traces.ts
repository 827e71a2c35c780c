import { type CustomerWords, findsOf } from '../customer-words'
import { readTextTables, type TextTable } from '../inner/text-columns'
import { findInText } from '../inner/words-to-find'
import type { OrganisationScope } from '../with-organisation'

/** A row that names them: its table, and what it says, without secrets and without files. */
export type Trace = { table: string; row: Record<string, unknown> }

/** A file that was brought in and names them, with the lines that do. */
export type FileTrace = { file: string; broughtInAt: Date; lines: string[] }

/** Columns that are never taken out: what opens something, and bytes. */
const NOT_TAKEN_OUT = /(^|_)(secret|hash|salt|content_hash|corrects_hash)$/

const quoted = (name: string) => `"${name.replaceAll('"', '""')}"`

/** Every row of every table in which one of their words stands, and the lines of the audit trail, too. */
export async function readTraces(scope: OrganisationScope, words: CustomerWords): Promise<Trace[]> {
  const wanted = findsOf(words).finds.join('|')
  const tables = [...(await readTextTables(scope)), AUDIT_LINES]
  const traces: Trace[] = []
  for (const table of tables) traces.push(...(await tracesIn(scope, table, wanted)))
  return traces
}

const AUDIT_LINES: TextTable = {
  table: 'audit_lines',
  hasId: false,
  columns: [
    { name: 'before', type: 'jsonb' },
    { name: 'after', type: 'jsonb' },
  ],
}

/** In how many rows of each table one of their words stands. */
export async function countTraces(
  scope: OrganisationScope,
  words: CustomerWords,
): Promise<Record<string, number>> {
  const wanted = findsOf(words).finds.join('|')
  const counts: Record<string, number> = {}
  for (const { table, columns } of [...(await readTextTables(scope)), AUDIT_LINES]) {
    const [found] = await scope.tx.$queryRawUnsafe<{ rows: number }[]>(
      `select count(*)::int as rows from ${quoted(table)}
       where organisation_id = $1::uuid and ${textOf(columns)} ~* $2`,
      ...[scope.organisation, wanted],
    )
    if (found && found.rows > 0) counts[table] = found.rows
  }
  return counts
}

async function tracesIn(
  { tx, organisation }: OrganisationScope,
  { table, columns }: TextTable,
  wanted: string,
): Promise<Trace[]> {
  const found = await tx.$queryRawUnsafe<{ row: Record<string, unknown> }[]>(
    `select to_jsonb(named) as row from (select * from ${quoted(table)} named
     where organisation_id = $1::uuid and ${textOf(columns)} ~* $2) as named`,
    organisation,
    wanted,
  )
  return found.map(({ row }) => ({ table, row: withoutSecrets(row) }))
}

/** All text of a row, with something between that no word has. */
export const textOf = (columns: TextTable['columns']): string =>
  `concat_ws(E'\\n', ${columns.map(({ name }) => `${quoted(name)}::text`).join(', ')})`

/** A row without what opens something, and without bytes. */
export function withoutSecrets(row: Record<string, unknown>): Record<string, unknown> {
  const told = Object.entries(row).filter(
    ([name, value]) => !NOT_TAKEN_OUT.test(name) && !(typeof value === 'string' && value.startsWith('\\x')),
  )
  return Object.fromEntries(told)
}

/** Files that were brought in and name them. */
export async function readFileTraces(scope: OrganisationScope, words: CustomerWords): Promise<FileTrace[]> {
  const finds = words.all.map(({ word }) => findInText(word))
  const traces: FileTrace[] = []
  await forEachFile(scope, async ({ name, madeAt, bytes }) => {
    const lines = textOfFile(bytes)
      .split(/\r\n|\n|\r/)
      .filter((line) => finds.some((find) => line.search(find) >= 0))
    if (lines.length > 0) traces.push({ file: name, broughtInAt: madeAt, lines })
  })
  return traces
}

export type StoredFile = { id: string; name: string; madeAt: Date; bytes: Uint8Array }

/** The files that were brought in, one after the other: they may be large. */
export async function forEachFile(
  { tx }: OrganisationScope,
  work: (file: StoredFile) => Promise<void>,
): Promise<void> {
  const files = await tx.$queryRaw<{ id: string }[]>`select id::text from intake_files order by name, id`
  for (const { id } of files) {
    const [file] = await tx.$queryRaw<StoredFile[]>`
      select file.id::text, file.name, intake.made_at as "madeAt", file.content as bytes
      from intake_files file join intakes intake on intake.id = file.intake_id where file.id = ${id}::uuid`
    if (file) await work(file)
  }
}

/** A file's letters: UTF-8, UTF-16 where it says so, else as spreadsheets in Western Europe write. */
export function textOfFile(bytes: Uint8Array): string {
  const [first, second] = bytes
  if (first === 0xff && second === 0xfe) return new TextDecoder('utf-16le').decode(bytes)
  if (first === 0xfe && second === 0xff) return new TextDecoder('utf-16be').decode(bytes)
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    return new TextDecoder('windows-1252').decode(bytes)
  }
}
