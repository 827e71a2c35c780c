import { Document, renderToBuffer } from '@react-pdf/renderer'
import { knownLetters, type Letters } from './fonts'
import { mostRoomOf, type Paper } from './paper'
import { type Fit, PaperSheet, type SheetSize } from './paper-sheet'

/** Smaller letters are hard to read at a vehicle. */
const SMALL = 0.87
/** How long a text may be, in letters: as long as it is, or shorter where not even one of each list fits. */
const LONGEST_TEXTS = [null, 900, 300, 100]

/** Where people fold their letters to another size. */
const LETTER_REGIONS = new Set(['US', 'CA', 'MX', 'PH', 'CL', 'CO', 'VE'])

/** The paper that people have where this locale is used. (CLDR, paper size by territory; from memory.) */
export function sheetOf(locale: string): SheetSize {
  return LETTER_REGIONS.has(new Intl.Locale(locale).region ?? '') ? 'letter' : 'a4'
}

/**
 * Papers as a PDF, a page each. What does not fit is left out at the end of its list, which says so; cautions of the
 * jobs that are shown, and who has the last word, never are.
 *
 * @param papers at least one
 */
export async function papersAsPdf(
  papers: readonly Paper[],
  sheet: SheetSize,
): Promise<Uint8Array<ArrayBuffer>> {
  const how = { letters: await knownLetters(), sheet }
  const fitted: Fitted[] = []
  for (const paper of papers) fitted.push(await onOnePage(paper, how))
  const [first] = fitted
  return new Uint8Array(first && fitted.length === 1 ? first.pdf : await drawn(fitted, how))
}

type OnePage = { paper: Paper; fit: Fit }
type Fitted = OnePage & { pdf: Buffer }
type How = { letters: Letters; sheet: SheetSize }

const drawn = (fitted: OnePage[], how: How): Promise<Buffer> =>
  renderToBuffer(
    <Document title={how.letters(titleOf(fitted))} creator="Gudgeon" producer="Gudgeon">
      {fitted.map(({ paper, fit }, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: papers that are drawn once, in their order
        <PaperSheet key={i} {...{ paper, fit }} {...how} />
      ))}
    </Document>,
  )

const titleOf = ([first, ...others]: OnePage[]) =>
  others.length === 0 ? (first?.paper.title ?? '') : `${first?.paper.title} and ${others.length} more`

/** How many pages a PDF has: page objects stand in it uncompressed. */
const pagesOf = (pdf: Buffer) => pdf.toString('latin1').match(/\/Type \/Page\b/g)?.length ?? 0

/** As much of a paper as one page holds: all of it, in smaller letters, with less of each list, with shorter texts. */
async function onOnePage(paper: Paper, how: How): Promise<Fitted> {
  const most = mostRoomOf(paper)
  const draw = (fit: Fit) => drawn([{ paper, fit }], how)
  const whole: Fit = { room: most, size: 1, longest: null }
  const all = await draw(whole)
  const pages = pagesOf(all)
  if (pages === 1) return { paper, fit: whole, pdf: all }
  for (const longest of LONGEST_TEXTS) {
    const found = await mostThat(
      { least: Math.min(most, 1), most, guess: most / pages / SMALL },
      async (room) => {
        const fit = { room, size: SMALL, longest }
        const pdf = await draw(fit)
        return pagesOf(pdf) === 1 ? { paper, fit, pdf } : null
      },
    )
    if (found) return found
  }
  const least = { room: 0, size: SMALL, longest: LONGEST_TEXTS.at(-1) ?? null }
  return { paper, fit: least, pdf: await draw(least) }
}

/**
 * What is found for the largest count for which something is; where there is for one, there is for each smaller one.
 * A guess comes first, then its neighbours, farther and farther, then the middle of what is left.
 */
async function mostThat<T>(
  { least, most, guess }: { least: number; most: number; guess: number },
  find: (count: number) => Promise<T | null>,
): Promise<T | null> {
  let [low, high, step, best]: [number, number, number, T | null] = [least - 1, most, 1, null]
  let next = Math.min(most, Math.max(least, Math.floor(guess)))
  while (low < high) {
    const found = await find(next)
    if (found) [low, best] = [next, found]
    else high = next - 1
    const isBetween = best !== null && high < most
    if (isBetween) next = Math.ceil((low + high) / 2)
    else next = found ? Math.min(high, next + step) : Math.max(low + 1, next - step)
    step *= 2
  }
  return best
}
