/**
 * Diagnostic trouble codes by their form: five characters as in SAE J2012 / ISO 15031-6, or SPN:FMI as in
 * SAE J1939-73 (rules from memory; tests/reference/trouble-codes.json holds the cases). Meanings are not kept here:
 * what a code speaks for is said by the signs of the library.
 */
export type TroubleCode = FiveCharacterCode | SuspectParameterCode

export interface FiveCharacterCode {
  form: 'five-characters'
  code: string
  system: 'powertrain' | 'chassis' | 'body' | 'network'
  definedBy: 'standard' | 'manufacturer' | 'reserved'
  /** The code as it travels on the wire, SAE J1979: two bytes, four hexadecimal digits. */
  twoBytes: string
}

export interface SuspectParameterCode {
  form: 'spn-fmi'
  code: string
  /** Suspect parameter number, 0 to 524,287 (19 bits). */
  spn: number
  /** Failure mode identifier, 0 to 31 (5 bits). */
  fmi: number
  /** 22 to 30 wait for a meaning. */
  reserved: boolean
}

const SYSTEMS = {
  P: { system: 'powertrain', bits: 0 },
  C: { system: 'chassis', bits: 1 },
  B: { system: 'body', bits: 2 },
  U: { system: 'network', bits: 3 },
} as const
type Letter = keyof typeof SYSTEMS

const FIVE_CHARACTERS = /^([PCBU])([0-3])([0-9A-F])[0-9A-F]{2}$/
const SPN_FMI = /^(\d{1,6}):(\d{1,2})$/
const LARGEST_SPN = 524_287
const LARGEST_FMI = 31

/**
 * Reads a trouble code.
 *
 * @param text as the standards write it, in upper case.
 * @returns its parts (`code` without leading zeros in SPN and FMI), or null where it has neither form.
 */
export function parseTroubleCode(text: string): TroubleCode | null {
  const five = FIVE_CHARACTERS.exec(text)
  if (five)
    return fiveCharacters(text, five[1] as Letter, Number(five[2]), Number.parseInt(five[3] ?? '', 16))
  const pair = SPN_FMI.exec(text)
  if (!pair) return null
  const [spn, fmi] = [Number(pair[1]), Number(pair[2])]
  if (spn > LARGEST_SPN || fmi > LARGEST_FMI) return null
  return { form: 'spn-fmi', code: `${spn}:${fmi}`, spn, fmi, reserved: fmi >= 22 && fmi <= 30 }
}

function fiveCharacters(code: string, letter: Letter, range: number, subsystem: number): FiveCharacterCode {
  const { system, bits } = SYSTEMS[letter]
  const twoBytes = ((bits << 14) | (range << 12) | Number.parseInt(code.slice(2), 16)).toString(16)
  return {
    form: 'five-characters',
    code,
    system,
    definedBy: definedBy(letter, range, subsystem),
    twoBytes: twoBytes.toUpperCase().padStart(4, '0'),
  }
}

/** Who gave the code its meaning, by its letter, second character and (for P3) third. */
function definedBy(letter: Letter, range: number, subsystem: number): FiveCharacterCode['definedBy'] {
  if (range === 0) return 'standard'
  if (range === 1) return 'manufacturer'
  if (range === 2) return letter === 'P' ? 'standard' : 'manufacturer'
  if (letter !== 'P') return 'reserved'
  return subsystem < 4 ? 'manufacturer' : 'standard'
}

const PLACE_OF_POSITION = /(\d*)#(?=$|:)/

/**
 * The code of one position in a pattern with `#`: `P030#` stands for P0300 + position, counted in tens as the
 * standard writes it, so that cylinder 10 is P0310; `65#:5` is 650 + position.
 *
 * @returns null where the pattern has no `#` at the end of its digits, or the position does not fit into them.
 */
export function codeAtPosition(pattern: string, position: number): string | null {
  const place = PLACE_OF_POSITION.exec(pattern)
  if (!place) return null
  const digits = `${place[1]}0`
  const counted = String(Number(digits) + position).padStart(digits.length, '0')
  return parseTroubleCode(pattern.replace(PLACE_OF_POSITION, counted))?.code ?? null
}
