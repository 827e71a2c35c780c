/** How a field is kept: the SQL type of its parameter, and the way into and out of its column. */
type Handling = {
  parameter: string
  write(parameter: string): string
  read(column: string): string
  toParameter(value: unknown): unknown
}

const same = <T>(value: T) => value
const plain = (type: string): Handling => ({ parameter: type, write: same, read: same, toParameter: same })
/** Travels as text: unnest flattens arrays of arrays and knows no JSON. */
const asText = (type: string, toText: (value: unknown) => unknown = same): Handling => ({
  parameter: 'text',
  write: (parameter) => `${parameter}::${type}`,
  read: same,
  toParameter: (value) => (value === null ? null : toText(value)),
})

const HANDLING = {
  text: plain('text'),
  bool: plain('boolean'),
  int: plain('integer'),
  float: plain('double precision'),
  /** A `Day`: whole days since 1970-01-01 in a row, a date in the table. */
  day: {
    parameter: 'integer',
    write: (parameter: string) => `date '1970-01-01' + ${parameter}`,
    read: (column: string) => `${column} - date '1970-01-01'`,
    toParameter: same,
  },
  instant: asText('timestamptz', (value) => (value as Date).toISOString()),
  uuid: asText('uuid'),
  bigint: asText('bigint', String),
  /** Bytes, in hexadecimal. */
  hex: asText('bytea', (value) => `\\x${value}`),
  json: asText('jsonb', JSON.stringify),
  ints: asText('integer[]', (value) => `{${(value as number[]).join(',')}}`),
} satisfies Record<string, Handling>

export type Kind = keyof typeof HANDLING

/** One field of a row and its column. */
export type Column = Handling & { field: string; name: string }

/**
 * The columns of a row type: every field but `unit` (a table keeps the vehicle's id instead) with its kind.
 *
 * @param renamed fields whose column has another name than the field in snake_case
 */
export function columnsOf<Row>(
  kinds: { [Field in Exclude<keyof Row & string, 'unit'>]: Kind },
  renamed: Record<string, string> = {},
): Column[] {
  return Object.entries<Kind>(kinds).map(([field, kind]) => ({
    ...HANDLING[kind],
    field,
    name: renamed[field] ?? field.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`),
  }))
}

/** What to select so that each row comes back under its field names. */
export function selection(columns: Column[], table: string): string {
  return columns.map(({ field, name, read }) => `${read(`${table}."${name}"`)} as "${field}"`).join(', ')
}

/** Each row as one JSON object under its field names, with its vehicle's number: several kinds of row in one answer. */
export function jsonObject(columns: Column[], table: string): string {
  const fields = columns.map(({ field, name, read }) => `'${field}', ${read(`${table}."${name}"`)}`)
  return `json_build_object('unit', vehicle.unit, ${fields.join(', ')})`
}
