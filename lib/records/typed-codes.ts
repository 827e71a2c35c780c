import { parseTroubleCode } from './trouble-codes'

/** Trouble codes found in a text, each once in the order in which they come, and what looks like one but is none. */
export type TypedCodes = { codes: string[]; unread: string[] }

const SPN_FMI_IN_WORDS = /\bSPN[\s:=]*(\d{1,6})\D{1,6}?FMI[\s:=]*(\d{1,2})\b/g
const SPN_FMI = /(?<![\w.])(\d{1,6})\s?[:/]\s?(\d{1,2})(?![\w.:/])/g
/** Five characters; a blank after the letter, an O for a nought and a failure type behind a hyphen are seen through. */
const FIVE_CHARACTERS = /\b([PCBU])[ -]?([0-3O][0-9A-FO]{3})(?:[-:][0-9A-F]{2})?\b/g
const NEARLY_ONE = /\b[PCBU]\d[0-9A-Z]{1,6}\b|\b\d{1,6}:\d{1,3}\b/g

/** Reads the trouble codes in a text that was typed, or pasted from a report with words between them. */
export function readTypedCodes(text: string): TypedCodes {
  let rest = text.toUpperCase()
  const found: { at: number; code: string }[] = []
  const take = (pattern: RegExp, code: (...parts: string[]) => string) => {
    rest = rest.replace(pattern, (whole: string, first: string, second: string, at: number) => {
      const parsed = parseTroubleCode(code(first, second))
      if (parsed === null) return whole
      found.push({ at, code: parsed.code })
      return ' '.repeat(whole.length) // so that later finds keep their place
    })
  }
  take(SPN_FMI_IN_WORDS, (spn, fmi) => `${spn}:${fmi}`)
  take(FIVE_CHARACTERS, (letter, digits) => `${letter}${digits?.replaceAll('O', '0')}`)
  take(SPN_FMI, (spn, fmi) => `${spn}:${fmi}`)
  const codes = found.sort((a, b) => a.at - b.at).map(({ code }) => code)
  return { codes: [...new Set(codes)], unread: [...new Set(rest.match(NEARLY_ONE) ?? [])] }
}
