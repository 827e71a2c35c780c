/** Halves of letters stand nowhere but among these, which few texts hold: asked of every cell, it costs next to nothing. */
const MAYBE_HALF = /[\uD800-\uDFFF]/

/** A text that can be stored: no NUL and no half of a letter, which a database refuses. */
export function storable(text: string): string {
  const kept = text.includes('\0') ? text.replaceAll('\0', '') : text
  return MAYBE_HALF.test(kept) ? kept.replace(/\p{Cs}/gu, '\uFFFD') : kept
}

/** The same, without the blanks around it. */
export const cleanText = (text: string): string => storable(text).trim()
