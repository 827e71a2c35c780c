import { Document, renderToBuffer } from '@react-pdf/renderer'
import { knownLetters, type Letters } from './fonts'
import { longestOf, type Paper } from './paper'
import { type Fit, PaperSheet, type SheetSize } from './paper-sheet'

/** Smaller letters are hard to read at a vehicle. */
const SMALL = 0.87
/** What a text is shortened to where not even one of each list fits, and its head and foot alone do not. */
const SHORT_TEXTS = [600, 200, 80]

/** Where people fold their letters to another size. */
const LETTER_REGIONS = new Set(['US', 'CA', 'MX', 'PH', 'CL', 'CO', 'VE'])

/** The paper that people have where this locale is used. (CLDR, paper size by territory; from memory.) */
export function sheetOf(locale: string): SheetSize {
  return LETTER_REGIONS.has(new Intl.Locale(locale).region ?? '') ? 'letter' : 'a4'
}

/**
 * Papers as a PDF, a page each. What does not fit is left out at the end of its list, which says so; cautions never are.
 *
 * @param papers at least one
 */
export async function papersAsPdf(
  papers: readonly Paper[],
  sheet: SheetSize,
): Promise<Uint8Array<ArrayBuffer>> {
  const letters = await knownLetters()
  const fitted: Fitted[] = []
  for (const paper of papers) fitted.push({ paper, fit: await fitOf(paper, { letters, sheet }) })
  return new Uint8Array(await drawn(fitted, { letters, sheet }))
}

type Fitted = { paper: Paper; fit: Fit }
type How = { letters: Letters; sheet: SheetSize }

const drawn = (fitted: Fitted[], how: How): Promise<Buffer> =>
  renderToBuffer(
    <Document title={how.letters(titleOf(fitted))} creator="Gudgeon" producer="Gudgeon">
      {fitted.map((each, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: papers that are drawn once, in their order
        <PaperSheet key={i} {...each} {...how} />
      ))}
    </Document>,
  )

const titleOf = ([first, ...others]: Fitted[]) =>
  others.length === 0 ? (first?.paper.title ?? '') : `${first?.paper.title} and ${others.length} more`

/** How many pages a PDF has: page objects stand in it uncompressed. */
const pagesOf = (pdf: Buffer) => pdf.toString('latin1').match(/\/Type \/Page\b/g)?.length ?? 0

/** As much of a paper as one page holds: all of it, in smaller letters, with less of each list, with shorter texts. */
async function fitOf(paper: Paper, how: How): Promise<Fit> {
  const fits = async (fit: Fit) => pagesOf(await drawn([{ paper, fit }], how)) === 1
  const longest = longestOf(paper)
  const all = { room: longest, size: 1, longest: null }
  if (await fits(all)) return all
  const room = await mostThat(longest, (room) => fits({ room, size: SMALL, longest: null }))
  if (room !== null) return { room, size: SMALL, longest: null }
  for (const short of SHORT_TEXTS) {
    const fit = { room: Math.min(longest, 1), size: SMALL, longest: short }
    if (await fits(fit)) return fit
  }
  return { room: 0, size: SMALL, longest: SHORT_TEXTS.at(-1) ?? null }
}

/** The largest count up to `most` that holds, if any does; what holds for a count holds for a smaller one. */
async function mostThat(most: number, holds: (count: number) => Promise<boolean>): Promise<number | null> {
  let [low, high] = [-1, most]
  while (low < high) {
    const middle = Math.ceil((low + high) / 2)
    if (await holds(middle)) low = middle
    else high = middle - 1
  }
  return low < 0 ? null : low
}
