/** Months by the beginnings of their names (common practice, no source): English, German, French, Spanish, Italian, Dutch. */
const BEGINNINGS: readonly (readonly string[])[] = [
  ['jan', 'jän', 'ene', 'gen'],
  ['feb', 'fév', 'fev'],
  ['mar', 'mär', 'maer', 'mrz', 'maart', 'mrt'],
  ['apr', 'avr', 'abr'],
  ['may', 'mai', 'mei', 'mag'],
  ['jun', 'juin', 'giu'],
  ['jul', 'juil', 'lug'],
  ['aug', 'aoû', 'aou', 'ago'],
  ['sep', 'set'],
  ['oct', 'okt', 'ott'],
  ['nov'],
  ['dec', 'dez', 'déc', 'dic'],
]

/** The month that a word names, 1 to 12; null where it names none. */
export function monthNamed(word: string): number | null {
  const found = word.toLowerCase()
  const month = BEGINNINGS.findIndex((names) => names.some((name) => found.startsWith(name)))
  return month < 0 ? null : month + 1
}
