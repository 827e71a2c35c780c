import { Document, Page, Path, renderToBuffer, StyleSheet, Svg, Text, View } from '@react-pdf/renderer'
import { FONT_FAMILY, knownLetters, type Letters } from '../paper/fonts'
import { SHEETS, type SheetSize } from '../paper/paper-sheet'
import { LABEL_SIZES, type LabelSize, ON_LABEL } from './label-words'
import { QUIET_ZONE } from './qr-path'
import type { PrintedLabel } from './read-labels-asked'

const INK = '#000000'
const RULE = '#b9b09a'

const styles = StyleSheet.create({
  page: {
    flexDirection: 'row',
    flexWrap: 'wrap',
    alignContent: 'flex-start',
    fontFamily: FONT_FAMILY,
    color: INK,
  },
  label: { flexDirection: 'row', alignItems: 'center', borderWidth: 0.25, borderColor: RULE },
  words: { flex: 1, paddingRight: 8 },
  unit: { fontWeight: 700, lineHeight: 1.1 },
  address: { marginTop: 3 },
})

/** How large what stands on a label is, in points; `line` is how many letters of the address stand in one. */
const LETTERS: Record<LabelSize, { qr: number; unit: number; words: number; address: number; line: number }> =
  {
    small: { qr: 98, unit: 15, words: 7.5, address: 4.5, line: 32 },
    middle: { qr: 130, unit: 24, words: 11, address: 6, line: 40 },
    large: { qr: 165, unit: 28, words: 12, address: 6.5, line: 30 },
  }

/** Of a sheet in points, less than a point that rounding may want. */
const HEIGHT: Record<SheetSize, number> = { a4: 841, letter: 791 }

/** Labels as a PDF, a grid of them on each sheet, with lines to cut along. */
export async function labelsAsPdf(
  labels: readonly PrintedLabel[],
  size: LabelSize,
  sheet: SheetSize,
): Promise<Uint8Array<ArrayBuffer>> {
  const letters = await knownLetters()
  const { columns, rows } = LABEL_SIZES[size]
  const perSheet = columns * rows
  const sheets = Array.from({ length: Math.ceil(labels.length / perSheet) }, (_, i) =>
    labels.slice(i * perSheet, (i + 1) * perSheet),
  )
  const pdf = await renderToBuffer(
    <Document title="Labels" creator="Gudgeon" producer="Gudgeon">
      {sheets.map((each) => (
        <Page key={each[0]?.unit} size={SHEETS[sheet]} style={styles.page}>
          {each.map((label) => (
            <LabelOf key={label.unit} {...{ label, size, sheet, letters }} />
          ))}
        </Page>
      ))}
    </Document>,
  )
  return new Uint8Array(pdf)
}

/** A number of many letters is written smaller, rather than cut. */
const LETTERS_AT_FULL_SIZE = 8

type LabelProps = { label: PrintedLabel; size: LabelSize; sheet: SheetSize; letters: Letters }

function LabelOf({ label, size, sheet, letters }: LabelProps) {
  const { unit, address, qr } = label
  const { columns, rows } = LABEL_SIZES[size]
  const { qr: side, ...letter } = LETTERS[size]
  const across = qr.across + 2 * QUIET_ZONE
  const unitSize = letter.unit * Math.min(1, LETTERS_AT_FULL_SIZE / [...unit].length)
  return (
    <View style={[styles.label, { width: `${100 / columns}%`, height: HEIGHT[sheet] / rows }]} wrap={false}>
      <Svg width={side} height={side} viewBox={`${-QUIET_ZONE} ${-QUIET_ZONE} ${across} ${across}`}>
        <Path d={qr.path} fill={INK} />
      </Svg>
      <View style={styles.words}>
        <Text style={[styles.unit, { fontSize: Math.max(unitSize, letter.words) }]}>{letters(unit)}</Text>
        <Text style={{ fontSize: letter.words, fontWeight: 700, marginTop: 2 }}>{ON_LABEL.ask}</Text>
        <Text style={{ fontSize: letter.words }}>{ON_LABEL.how}</Text>
        <View style={styles.address}>
          {linesOf(address, letter.line).map((line) => (
            <Text key={line} style={{ fontSize: letter.address }}>
              {letters(line)}
            </Text>
          ))}
        </View>
      </View>
    </View>
  )
}

/** A hyphen at the end of a line would be typed along: an address is broken into lines without any. */
const linesOf = (address: string, most: number): string[] =>
  Array.from({ length: Math.ceil(address.length / most) }, (_, i) => address.slice(i * most, (i + 1) * most))
