/** What must still be asked of a workbook before its rows say what people mean. */
import type { Family, WeakPoint } from '@/lib/records/library'
import type { GuessGround } from './guess'
import {
  type Answers,
  type Mapping,
  MEANING_KEYS,
  MEANINGS,
  type Meaning,
  type SheetMapping,
  saidOf,
  type Tie,
  wordKey,
} from './mapping'
import { phrasesOf } from './phrases'
import type { ColumnProfile, SheetProfile, WorkbookProfile } from './profile'
import { readCell } from './read-cells'

/** Where the answer goes. */
export type Settles =
  | { by: 'answer'; question: keyof Answers }
  /** The order of a column's dates, or its decimal mark. */
  | { by: 'column'; column: string; field: 'order' | 'decimal' }
  /** On the page of the sheet: its columns, or the day of its rows. */
  | { by: 'sheet' }
  | { by: 'words'; meaning: Meaning }

export interface Question {
  /** Its own among the open ones. */
  key: string
  /** Null where it is about all of the workbook. */
  sheet: string | null
  words: string
  settles: Settles
  /** None where it is answered elsewhere. */
  choices: { value: string; label: string }[]
}

type Ground = Pick<GuessGround, 'families' | 'today'>

/** What is still open, what most of the rest hangs on first. */
export function openQuestions(profile: WorkbookProfile, mapping: Mapping, ground: Ground): Question[] {
  const telling = profile.sheets.flatMap((sheet) => {
    const said = saidOf(mapping.sheets, sheet.name)
    return said && said.tells.length > 0 ? [new SheetAsked(sheet, said, mapping, ground)] : []
  })
  return [
    ...telling.flatMap((sheet) => sheet.vehicle()),
    ...telling.flatMap((sheet) => [...sheet.orders(), ...sheet.day()]),
    ...telling.flatMap((sheet) => sheet.decimals()),
    ...engines(telling),
    ...telling.flatMap((sheet) => sheet.words()),
    ...telling.flatMap((sheet) => [
      ...sheet.odometerFrom(),
      ...sheet.before(),
      ...sheet.looksCover(),
      ...sheet.whichOfSeveral(),
      ...sheet.partVersion(),
    ]),
  ]
}

/** Engines and signs that are tied to nothing are kept; other words are not. */
const LISTED = MEANING_KEYS.filter(
  (meaning) => MEANINGS[meaning].reads === 'words' && !['engine', 'signs'].includes(meaning),
)
const NAMES: readonly Meaning[] = ['unit', 'plate', 'vin']

/** One sheet that tells of something, and what is not said of it yet. */
class SheetAsked {
  constructor(
    private readonly sheet: SheetProfile,
    private readonly said: SheetMapping,
    private readonly mapping: Mapping,
    private readonly ground: Ground,
  ) {}

  /** Whose a row is: of which vehicle, or of which part. */
  vehicle(): Question[] {
    const isOfParts = this.said.tells.every((kind) => kind === 'parts')
    const names = isOfParts ? (['part'] as const) : NAMES
    if (names.some((meaning) => this.columns(meaning).length > 0)) return []
    if (isOfParts)
      return [this.ask('part', 'Which column says which part a row is about?', { by: 'sheet' }, {})]
    return [this.ask('vehicle', 'Which column says which vehicle a row is about?', { by: 'sheet' }, {})]
  }

  orders(): Question[] {
    return this.all().flatMap(({ key, header, shapes, samples }) => {
      const column = saidOf(this.said.columns, key)
      if (!column || MEANINGS[column.meaning].reads !== 'date' || column.order !== null) return []
      if (shapes.eitherOrder === 0 && (shapes.dayFirst === 0 || shapes.monthFirst === 0)) return []
      const example = samples.find(({ iso }) => iso === undefined)?.text ?? ''
      return [
        this.ask(
          `order ${key}`,
          `${header}: what stands first in “${example}”?`,
          { by: 'column', column: key, field: 'order' },
          { 'day-first': 'the day', 'month-first': 'the month' },
        ),
      ]
    })
  }

  day(): Question[] {
    const needsDay = this.said.tells.some((kind) => kind !== 'vehicles' && kind !== 'parts')
    if (!needsDay || this.said.date !== null || this.columns('date').length > 0) return []
    return [this.ask('day', 'No column says on which day: which day are its rows of?', { by: 'sheet' }, {})]
  }

  decimals(): Question[] {
    return this.all().flatMap(({ key, header, shapes, samples }) => {
      const column = saidOf(this.said.columns, key)
      if (
        !column ||
        column.decimal !== null ||
        shapes.eitherDecimal + Math.min(shapes.commaDecimal, shapes.pointDecimal) === 0
      )
        return []
      if (!['number', 'distance'].includes(MEANINGS[column.meaning].reads)) return []
      const example = samples.find(({ text }) => /\d[.,]\d{3}$/.test(text))?.text ?? samples[0]?.text ?? ''
      return [
        this.ask(
          `decimal ${key}`,
          `${header}: is “${example}” in thousands, or are those decimals?`,
          { by: 'column', column: key, field: 'decimal' },
          {
            comma: 'a comma parts the decimals, as in 84,5',
            point: 'a point parts the decimals, as in 84.5',
          },
        ),
      ]
    })
  }

  odometerFrom(): Question[] {
    const isAsked = this.asks('readings', 'odometerFrom') && this.columns('odometer').some(mayCountAnew)
    if (!isAsked) return []
    const words = `${this.columns('odometer')[0]?.header}: does it count as the instrument does, or from the day on which something was fitted?`
    return [
      this.answer('odometerFrom', words, {
        new: 'as the instrument does',
        installation: 'from its fitting: what the instrument said then is added',
      }),
    ]
  }

  before(): Question[] {
    const isSaid = ['history', 'watchedFromOn', 'watchedFromKm'] as const
    if (!this.asks('vehicles', 'before') || isSaid.some((meaning) => this.columns(meaning).length > 0))
      return []
    const first = this.firstOdometer()
    const words =
      first === null
        ? 'Is anything known of its vehicles before their first record?'
        : `First record at ${first}: is anything known before that?`
    return [
      this.answer('before', words, {
        none: 'nothing: parts may have been replaced before',
        full: 'everything: what was done before is on record, or nothing was',
      }),
    ]
  }

  looksCover(): Question[] {
    if (!this.asks('codes', 'looksCover') && !this.asks('checks', 'looksCover')) return []
    const columns = [...this.columns('codes'), ...this.columns('signs')]
    const example = columns[0]?.samples[0]?.text
    if (example === undefined) return []
    return [
      this.answer(
        'looksCover',
        `Where it says “${example}”: was everything of that kind looked at, or only that?`,
        {
          written: 'only what is written',
          all: 'everything of its kind: what is not written was not there',
        },
      ),
    ]
  }

  whichOfSeveral(): Question[] {
    if (!this.asks('repairs', 'whichOfSeveral') || this.columns('positions').length > 0) return []
    const found = this.tied().find(
      ({ tie, points }) => tie.positions === '' && points.some((p) => p.positions > 1),
    )
    if (!found) return []
    const many = Math.max(...found.points.map(({ positions }) => positions))
    return [
      this.answer('whichOfSeveral', `“${found.phrase}”: there are ${many}. Which, where none is written?`, {
        'one-unknown': 'one or some of them, nobody knows which',
        all: 'all of them, each as it is written',
      }),
    ]
  }

  partVersion(): Question[] {
    if (!this.asks('repairs', 'partVersion') || this.columns('revision').length > 0) return []
    const found = this.tied().find(
      ({ tie, points }) => tie.action === 'renew' && points.some(({ revisions }) => revisions.length > 0),
    )
    if (!found) return []
    return [
      this.answer('partVersion', `“${found.phrase}”: which version was fitted, where none is written?`, {
        unknown: 'not known',
        original: 'the original part',
      }),
    ]
  }

  /** Words that stand for one of a list of ours: where they do not, their rows are refused. */
  words(): Question[] {
    return LISTED.flatMap((meaning) => {
      if (!this.said.tells.some((kind) => kind in MEANINGS[meaning].fills)) return []
      const said = this.mapping.values[meaning]
      const columns = this.columns(meaning)
      const untied = columns.flatMap(({ values }) =>
        values.filter(({ text }) => saidOf(said, wordKey(text)) === undefined),
      )
      const [most] = untied
      if (!most) return []
      const more = untied.length > 1 ? ` and ${untied.length - 1} more` : ''
      const words = `${columns[0]?.header}: what does “${most.text}”${more} stand for? Until it is said, its rows are refused.`
      return [this.ask(`words ${meaning}`, words, { by: 'words', meaning }, {})]
    })
  }

  untiedEngines(): { text: string; count: number }[] {
    if (!this.said.tells.includes('vehicles')) return []
    const said = this.mapping.values.engine ?? {}
    return this.columns('engine').flatMap(({ values }) =>
      values.filter(({ text }) => !Object.hasOwn(said, wordKey(text))),
    )
  }

  private asks(kind: SheetMapping['tells'][number], question: keyof Answers): boolean {
    return this.said.tells.includes(kind) && this.said.answers[question] === null
  }

  /** Phrases with what they are tied to, the commonest first. */
  private tied(): { phrase: string; tie: Tie; points: WeakPoint[] }[] {
    return phrasesOf(this.columns('work').flatMap(({ values }) => values)).flatMap(({ key, example }) => {
      const tie = saidOf(this.mapping.work, key)
      return tie ? [{ phrase: example, tie, points: pointsOf(tie, this.ground.families) }] : []
    })
  }

  private firstOdometer(): string | null {
    const [column] = this.columns('odometer')
    const said = column && this.said.columns[column.key]
    const [sample] = column?.samples ?? []
    if (!said || !sample) return null
    const { text, isRead } = readCell(sample, said, { values: {}, today: this.ground.today })
    return isRead
      ? `${Number(text).toLocaleString('en', { maximumFractionDigits: 0 })} ${said.distance}`
      : null
  }

  private all(): ColumnProfile[] {
    return this.sheet.columns
  }

  private columns(meaning: Meaning): ColumnProfile[] {
    return this.all().filter(({ key }) => saidOf(this.said.columns, key)?.meaning === meaning)
  }

  private answer(question: keyof Answers, words: string, choices: Record<string, string>): Question {
    return this.ask(question, words, { by: 'answer', question }, choices)
  }

  private ask(key: string, words: string, settles: Settles, choices: Record<string, string>): Question {
    const { name: sheet } = this.sheet
    const listed = Object.entries(choices).map(([value, label]) => ({ value, label }))
    return { key: `${key} ${sheet}`, sheet, words, settles, choices: listed }
  }
}

/** A tracker's distances begin near nothing, or are called something else than an odometer. */
const mayCountAnew = ({ header, samples }: ColumnProfile): boolean =>
  /\b(?:distance|trips?|gps|track\w*|counted)\b/i.test(header) ||
  samples.some(({ number }) => number !== undefined && number < FEW_KM)
const FEW_KM = 500

const pointsOf = ({ weakPoints }: Tie, families: readonly Family[]): WeakPoint[] =>
  families.flatMap((family) => family.weakPoints.filter(({ key }) => weakPoints[family.key] === key))

/** Vehicles of an engine that is tied to nothing come in, and are not assessed. */
function engines(sheets: readonly SheetAsked[]): Question[] {
  const untied = sheets.flatMap((sheet) => sheet.untiedEngines())
  const [most] = untied
  if (!most) return []
  const others = untied.length > 1 ? ` and ${untied.length - 1} more` : ''
  const words = `Which engine is “${most.text}”${others}? Vehicles whose engine is tied to nothing come in and are not assessed.`
  return [{ key: 'engines', sheet: null, words, settles: { by: 'words', meaning: 'engine' }, choices: [] }]
}
