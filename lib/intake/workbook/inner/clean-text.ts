/** A text that can be stored: no NUL and no half of a letter, which a database refuses, and no blanks around it. */
export function cleanText(text: string): string {
  const kept = text.includes('\0') ? text.replaceAll('\0', '') : text
  return kept.replace(/\p{Cs}/gu, '\uFFFD').trim()
}
