/** Where the data of a table stands as CSV, with what the page itself was asked. */
export function twinAddress(
  csv: string,
  parameters: Readonly<Record<string, string | string[] | undefined>> = {},
): string {
  const query = new URLSearchParams(
    Object.entries(parameters).flatMap(([name, value]) =>
      [value ?? []].flat().map((each) => [name, each] as [string, string]),
    ),
  )
  return query.size === 0 ? csv : `${csv}?${query}`
}

/** The same of a table below a page's own address: `/vehicles/7?days=30` and `records`. */
export function twinBelow(page: string, table: string): string {
  const [path = '', query] = page.split('?')
  return `${path}/${table}.csv${query === undefined ? '' : `?${query}`}`
}
