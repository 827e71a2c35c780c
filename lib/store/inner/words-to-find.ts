/** A word that names somebody, and what is put in its place. */
export type WordToErase = { word: string; put: string }

/** A shorter one is found where it is all that a text says: as a part it would be found in everything. */
export const SHORTEST_PART = 3

const SPECIAL = /[\\^$.*+?()[\]{}|/-]/g

/** How a text may stand in a row: composed or not, with any blanks between, and as JSON writes it. */
function writings(word: string): string[] {
  const forms = ['NFC', 'NFD', 'NFKC'].map((form) => word.normalize(form).trim())
  const all = forms.flatMap((form) => [form, JSON.stringify(form).slice(1, -1)])
  return [...new Set(all)].map((form) =>
    form
      .split(/\s+/)
      .map((part) => part.replace(SPECIAL, '\\$&'))
      .join('\\s+'),
  )
}

/** As a regular expression of PostgreSQL (POSIX advanced), matched without regard to capitals. */
export function findInDatabase(word: string): string {
  const either = `(?:${writings(word).join('|')})`
  if (word.trim().length < SHORTEST_PART) return `(?<=^|")${either}(?=$|")`
  return `(?<![[:alnum:]])${either}(?![[:alnum:]])`
}

/** The same in a file's text. */
export function findInText(word: string): RegExp {
  const either = `(?:${writings(word).join('|').replaceAll('\\-', '-')})`
  if (word.trim().length < SHORTEST_PART)
    return new RegExp(`(?<=^|[,;"\\t\\r\\n])${either}(?=$|[,;"\\t\\r\\n])`, 'giu')
  return new RegExp(`(?<![\\p{L}\\p{N}])${either}(?![\\p{L}\\p{N}])`, 'giu')
}
