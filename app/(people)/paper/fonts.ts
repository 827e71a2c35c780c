import path from 'node:path'
import { Font } from '@react-pdf/renderer'

/**
 * The typeface of the product, and for what it lacks (the Turkish lira, Greek, Cyrillic) one that has it: a PDF carries
 * its letters along. Each family is one part of a typeface, asked in this order for each letter.
 */
const PARTS = [
  { family: 'Own', files: 'atkinson-hyperlegible-next', part: 'latin' },
  { family: 'OwnMore', files: 'atkinson-hyperlegible-next', part: 'latin-ext' },
  { family: 'OtherMore', files: 'noto-sans', part: 'latin-ext' },
  { family: 'Other', files: 'noto-sans', part: 'latin' },
  { family: 'OtherGreek', files: 'noto-sans', part: 'greek' },
  { family: 'OtherCyrillic', files: 'noto-sans', part: 'cyrillic' },
]
const WEIGHTS = [400, 700] as const

export const FONT_FAMILY = PARTS.map(({ family }) => family)

/** Words that are longer than a line may be broken after so many letters. */
const LETTERS_A_PIECE = 24

/** Makes the typefaces known, once a process, and finds out which letters they have. */
let letters: Promise<Letters> | null = null
export const knownLetters = (): Promise<Letters> => {
  letters ??= loadLetters()
  return letters
}

export type Letters = (text: string) => string

async function loadLetters(): Promise<Letters> {
  const folder = path.join(process.cwd(), 'node_modules', '@fontsource')
  for (const { family, files, part } of PARTS)
    Font.register({
      family,
      fonts: WEIGHTS.map((fontWeight) => ({
        src: path.join(folder, files, 'files', `${files}-${part}-${fontWeight}-normal.woff`),
        fontWeight,
      })),
    })
  Font.registerHyphenationCallback(pieces)
  const loaded = await Promise.all(
    PARTS.map(async ({ family: fontFamily }) => {
      await Font.load({ fontFamily, fontWeight: 400 })
      return Font.getFont({ fontFamily, fontWeight: 400 })?.data
    }),
  )
  const has = (codePoint: number) => loaded.some((font) => font?.hasGlyphForCodePoint(codePoint))
  return (text) => printable(text, has)
}

function pieces(word: string): string[] {
  const all = [...word]
  if (all.length <= LETTERS_A_PIECE) return [word]
  const count = Math.ceil(all.length / LETTERS_A_PIECE)
  return Array.from({ length: count }, (_, i) =>
    all.slice(i * LETTERS_A_PIECE, (i + 1) * LETTERS_A_PIECE).join(''),
  )
}

/** A letter that no typeface here has would come out as another one: it is a question mark instead. */
export function printable(text: string, has: (codePoint: number) => boolean): string {
  const written = text
    .normalize('NFC')
    .replace(/[\u202f\u2009\u2007]/g, '\u00a0')
    .replace(/\s/g, asSpace)
  return [...written].map((letter) => (has(letter.codePointAt(0) ?? 0) ? letter : '?')).join('')
}

const asSpace = (space: string) => (space === '\u00a0' ? space : ' ')
