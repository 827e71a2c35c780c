const NEEDS_QUOTES = /[",;\t\r\n]|^\s|\s$/

/** One row as RFC 4180 writes it, line break included; null is an empty cell. */
export function csvLine(cells: readonly (string | number | null)[]): string {
  const written = cells.map((cell) => {
    const text = cell === null ? '' : String(cell)
    return NEEDS_QUOTES.test(text) ? `"${text.replaceAll('"', '""')}"` : text
  })
  return `${written.join(',')}\r\n`
}
