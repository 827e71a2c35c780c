import { z } from 'zod'
import { IntakeRefusal } from './findings'

/** The rows of a table, whole: what the files of a data folder do not say. */
export type ArchivedTable = { name: string; columns: string[]; rows: (string | null)[][] }

const NAME = /^table-([a-z_]+)\.jsonl$/

const columnsSchema = z.array(z.string())
const rowSchema = z.array(z.string().nullable())

/** Each table as a file of lines of JSON: the names of its columns, then a row a line. */
export function tableFiles(tables: readonly ArchivedTable[]): Map<string, Uint8Array> {
  return new Map(
    tables.map(({ name, columns, rows }) => {
      const lines = [columns, ...rows].map((line) => Buffer.from(`${JSON.stringify(line)}\n`))
      return [`table-${name}.jsonl`, Buffer.concat(lines)]
    }),
  )
}

/**
 * The tables among an archive's files.
 *
 * @throws IntakeRefusal where one cannot be read
 */
export function tablesIn(files: ReadonlyMap<string, Uint8Array>): ArchivedTable[] {
  return [...files].flatMap(([file, bytes]) => {
    const name = NAME.exec(file)?.[1]
    return name === undefined ? [] : [tableIn(name, file, bytes)]
  })
}

function tableIn(name: string, file: string, bytes: Uint8Array): ArchivedTable {
  try {
    const [first, ...lines] = linesOf(bytes)
    const columns = columnsSchema.parse(first)
    return { name, columns, rows: lines.map((line) => rowSchema.length(columns.length).parse(line)) }
  } catch {
    throw new IntakeRefusal(`${file}: cannot be read as lines of JSON, the names of its columns first`)
  }
}

/** Line by line: a file with others in it may be longer than a text can be. */
function* linesOf(bytes: Uint8Array): Generator<unknown> {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  for (let from = 0, to: number; from < buffer.length; from = to + 1) {
    to = buffer.indexOf('\n', from)
    if (to < 0) to = buffer.length
    yield JSON.parse(buffer.toString('utf8', from, to))
  }
}
