import { Page, StyleSheet, Text, View } from '@react-pdf/renderer'
import { FONT_FAMILY, type Letters } from './fonts'
import { type Paper, type PaperJob, type PaperRows, type PaperSection, shownOf } from './paper'

/** How a paper is brought onto its page. */
export type Fit = {
  /** So many of each list at most. */
  room: number
  /** Of the usual size of letters. */
  size: number
  /** The longest text, in letters; null: as long as it is. */
  longest: number | null
}

export const SHEETS = { a4: 'A4', letter: 'LETTER' } as const
export type SheetSize = keyof typeof SHEETS

const INK = '#17293a'
const SOFT = '#52606b'
const RULE = '#b9b09a'
const ALARM = '#9c2408'
const MM = 72 / 25.4

const styles = StyleSheet.create({
  from: { color: SOFT, marginBottom: 6 },
  title: { fontWeight: 700, lineHeight: 1.15, marginBottom: 3 },
  alarm: {
    paddingVertical: 5,
    paddingHorizontal: 6,
    marginTop: 8,
    borderWidth: 1.5,
    borderColor: ALARM,
    color: ALARM,
    fontWeight: 700,
  },
  section: { paddingTop: 5, marginTop: 8, borderTopWidth: 1, borderTopColor: INK },
  heading: { fontWeight: 700, marginBottom: 2 },
  mark: { paddingLeft: 6, marginBottom: 2, borderLeftWidth: 2, borderLeftColor: INK, fontWeight: 700 },
  line: { flexDirection: 'row' },
  dot: { width: 9 },
  rest: { flex: 1 },
  row: { flexDirection: 'row', paddingVertical: 1.5, borderBottomWidth: 0.5, borderBottomColor: RULE },
  first: { width: 66, fontWeight: 700 },
  middle: { width: 72 },
  soft: { color: SOFT, fontWeight: 400 },
  job: { paddingTop: 5, marginTop: 6, borderTopWidth: 1, borderTopColor: INK },
  mind: { paddingLeft: 6, marginTop: 2, borderLeftWidth: 2, borderLeftColor: RULE },
  ticks: { flexDirection: 'row', flexWrap: 'wrap', marginTop: 4 },
  group: { flexDirection: 'row', marginRight: 18 },
  tick: { flexDirection: 'row', alignItems: 'center', marginRight: 9 },
  box: { width: 7.5, height: 7.5, marginRight: 3, borderWidth: 0.75, borderColor: INK },
  blanks: { flexDirection: 'row', gap: 14, marginTop: 10 },
  blank: { flex: 1, color: SOFT, borderBottomWidth: 0.75, borderBottomColor: RULE },
  foot: { paddingTop: 5, marginTop: 'auto', borderTopWidth: 1, borderTopColor: INK },
})

type Props = { paper: Paper; fit: Fit; letters: Letters; sheet: SheetSize }
type Told = Pick<Props, 'fit'> & {
  /** A text as it is printed: shortened where it is too long, of letters that can be. */
  say: (text: string) => string
}

/** A paper as one page of a PDF. */
export function PaperSheet({ paper, fit, letters, sheet }: Props) {
  const told: Told = { fit, say: (text) => letters(shortened(text, fit.longest)) }
  const { say } = told
  const size = 9.5 * fit.size
  const page = {
    ...{ fontFamily: FONT_FAMILY, fontSize: size, lineHeight: 1.35, color: INK },
    ...{ paddingVertical: 15 * MM, paddingHorizontal: 17 * MM, fontFeatureSettings: ['tnum' as const] },
  }
  return (
    <Page size={SHEETS[sheet]} style={page}>
      {paper.from !== null && <Text style={styles.from}>{say(paper.from)}</Text>}
      <Text style={[styles.title, { fontSize: 1.9 * size }]}>{say(paper.title)}</Text>
      {paper.lines.map((line) => (
        <Text key={line}>{say(line)}</Text>
      ))}
      {paper.alarm !== null && <Text style={styles.alarm}>{say(paper.alarm)}</Text>}
      {paper.sections.map((section, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a paper never changes, and a section need not have a heading
        <Section key={i} {...{ section, told }} />
      ))}
      <View style={styles.foot}>
        {paper.foot.map((line) => (
          <Text key={line}>{letters(line)}</Text>
        ))}
        <Blanks all={paper.blanks} told={told} />
      </View>
    </Page>
  )
}

/** @returns the beginning, and that it is one */
export function shortened(text: string, longest: number | null): string {
  const all = [...text]
  return longest === null || all.length <= longest
    ? text
    : `${all.slice(0, longest).join('')}… (shortened: the rest is on its page)`
}

function Section({ section, told }: { section: PaperSection; told: Told }) {
  const { heading, mark, text, rows } = section
  const { say, fit } = told
  return (
    <View style={heading === null ? {} : styles.section}>
      {heading !== null && (
        <Text style={[styles.heading, { fontSize: 11.5 * fit.size }]}>{say(heading)}</Text>
      )}
      {mark !== null && <Text style={styles.mark}>{say(mark)}</Text>}
      {text.map((each) => (
        <Text key={each}>{say(each)}</Text>
      ))}
      {rows && <Rows rows={rows} told={told} />}
    </View>
  )
}

function Rows({ rows, told }: { rows: PaperRows; told: Told }) {
  const shown = shownOf(rows, told.fit.room)
  return (
    <>
      {shown > 0 && <Shown {...{ rows, shown, told }} />}
      {shown < rows.all.length && (
        <Text style={{ marginTop: 3, fontWeight: 700 }}>{told.say(rows.rest(shown))}</Text>
      )}
    </>
  )
}

/* A list that never changes, in which two lines may be alike. */
const numbered = <T,>(all: readonly T[]) => all.map((each, place) => ({ each, place }))

function Shown({ rows, shown, told }: { rows: PaperRows; shown: number; told: Told }) {
  switch (rows.kind) {
    case 'lines':
      return numbered(rows.all.slice(0, shown)).map(({ each, place }) => (
        <View key={place} style={styles.line}>
          <Text style={styles.dot}>·</Text>
          <Text style={styles.rest}>{told.say(each)}</Text>
        </View>
      ))
    case 'table':
      return (
        <>
          <Row cells={rows.columns.map(({ name }) => name)} {...{ rows, told }} isHead />
          {numbered(rows.all.slice(0, shown)).map(({ each, place }) => (
            <Row key={place} cells={each} {...{ rows, told }} />
          ))}
        </>
      )
    case 'jobs':
      return numbered(rows.all.slice(0, shown)).map(({ each, place }) => (
        <Job key={place} job={each} told={told} />
      ))
  }
}

type RowProps = { cells: string[]; rows: PaperRows & { kind: 'table' }; told: Told; isHead?: boolean }

/** The last column takes what the others leave. */
function Row({ cells, rows: { columns }, told, isHead = false }: RowProps) {
  return (
    <View style={styles.row}>
      {numbered(cells).map(({ each, place }) => {
        const width = place === 0 ? styles.first : place < cells.length - 1 ? styles.middle : styles.rest
        const side = columns[place]?.number ? { textAlign: 'right' as const, paddingRight: 8 } : {}
        return (
          <Text key={place} style={[width, side, isHead ? styles.soft : {}]}>
            {told.say(each)}
          </Text>
        )
      })}
    </View>
  )
}

function Job({ job: { name, text, mind, ticks, blanks }, told }: { job: PaperJob; told: Told }) {
  const { say, fit } = told
  return (
    <View style={styles.job}>
      <Text style={[styles.heading, { fontSize: 11.5 * fit.size }]}>{say(name)}</Text>
      {text.map((each) => (
        <Text key={each}>{say(each)}</Text>
      ))}
      <Text style={styles.mind}>
        <Text style={{ fontWeight: 700 }}>Mind: </Text>
        {say(mind)}
      </Text>
      <View style={styles.ticks}>
        {ticks.map(({ about, boxes }) => (
          <View key={boxes.join()} style={styles.group}>
            {about !== null && <Text style={{ marginRight: 6 }}>{say(`${about}:`)}</Text>}
            {boxes.map((box) => (
              <View key={box} style={styles.tick}>
                <View style={styles.box} />
                <Text>{say(box)}</Text>
              </View>
            ))}
          </View>
        ))}
      </View>
      <Blanks all={blanks} told={told} />
    </View>
  )
}

function Blanks({ all, told }: { all: string[]; told: Told }) {
  if (all.length === 0) return null
  return (
    <View style={styles.blanks}>
      {all.map((blank) => (
        <Text key={blank} style={styles.blank}>
          {told.say(blank)}
        </Text>
      ))}
    </View>
  )
}
