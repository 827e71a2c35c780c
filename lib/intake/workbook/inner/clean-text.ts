/** A text that can be stored: no NUL and no half of a letter, which a database refuses. */
export function storable(text: string): string {
  const kept = text.includes('\0') ? text.replaceAll('\0', '') : text
  return kept.replace(/\p{Cs}/gu, '\uFFFD')
}

/** The same, without the blanks around it. */
export const cleanText = (text: string): string => storable(text).trim()
