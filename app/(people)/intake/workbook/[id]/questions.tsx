import { answersSchema, type Mapping, saidOf } from '@/lib/intake/workbook/mapping'
import type { WorkbookProfile } from '@/lib/intake/workbook/profile'
import { openQuestions, type Question } from '@/lib/intake/workbook/questions'
import { Link } from '../../../../ui/link'
import styles from '../../intake.module.css'
import { answerQuestion } from './actions'

type Props = { id: string; profile: WorkbookProfile; mapping: Mapping; ground: Ground }
type Ground = Parameters<typeof openQuestions>[2]

/** What the workbook does not say of itself, open and answered: silence is not taken for good news. */
export function Questions({ id, profile, mapping, ground }: Props) {
  const open = openQuestions(profile, mapping, ground)
  const answered = openQuestions(profile, unanswered(mapping), ground).filter(
    ({ key }) => !open.some((question) => question.key === key),
  )
  return (
    <>
      {open.length > 0 && (
        <section className={styles.section} aria-labelledby="asked">
          <h2 id="asked">
            {open.length === 1 ? 'One thing it does not say' : `${open.length} things it does not say`}
          </h2>
          <p className={styles.soft}>
            Unanswered, what is read from silence is the least: nothing was looked for.
          </p>
          <QuestionList {...{ id, profile, mapping }} questions={open} />
        </section>
      )}
      {answered.length > 0 && (
        <details className={styles.form}>
          <summary>
            {answered.length === 1 ? 'One thing you have said' : `${answered.length} things you have said`}
          </summary>
          <QuestionList {...{ id, profile, mapping }} questions={answered} />
        </details>
      )}
    </>
  )
}

/** As if nobody had answered anything yet. */
function unanswered({ sheets, ...mapping }: Mapping): Mapping {
  const open = Object.entries(sheets).map(([name, sheet]) => [
    name,
    { ...sheet, answers: answersSchema.parse({}) },
  ])
  return { ...mapping, sheets: Object.fromEntries(open) }
}

type ListProps = Omit<Props, 'ground'> & { questions: readonly Question[] }

function QuestionList({ id, profile, mapping, questions }: ListProps) {
  return (
    <ol className={styles.groups}>
      {questions.map((question) => (
        <li key={question.key}>
          {question.words}
          {question.sheet !== null && profile.sheets.length > 1 && <small> Sheet {question.sheet}.</small>}
          {question.choices.length > 0 ? (
            <Answers id={id} question={question} said={answerOf(question, mapping)} />
          ) : (
            <p>
              <Link href={`/intake/workbook/${id}${placeOf(question, profile)}`}>
                {question.settles.by === 'words'
                  ? 'Say what the words stand for'
                  : 'Say it on the page of the sheet'}
              </Link>
            </p>
          )}
        </li>
      ))}
    </ol>
  )
}

/** What was answered; null where nothing was. */
function answerOf({ sheet, settles }: Question, { sheets }: Mapping): string | null {
  const said = sheet === null ? undefined : saidOf(sheets, sheet)
  return settles.by === 'answer' ? (said?.answers[settles.question] ?? null) : null
}

/** Where a question is answered that no press of one button answers. */
function placeOf({ settles, sheet }: Question, profile: WorkbookProfile): string {
  if (settles.by === 'words') return `/words/${settles.meaning}`
  return `/sheet/${profile.sheets.findIndex(({ name }) => name === sheet)}`
}

type AnswersProps = { id: string; question: Question; said: string | null }

function Answers({ id, question: { sheet, settles, choices }, said }: AnswersProps) {
  const field = settles.by === 'answer' ? settles.question : settles.by === 'column' ? settles.field : ''
  return (
    <form action={answerQuestion} className={styles.acts}>
      <input type="hidden" name="id" value={id} />
      <input type="hidden" name="sheet" value={sheet ?? ''} />
      <input type="hidden" name="field" value={field} />
      <input type="hidden" name="column" value={settles.by === 'column' ? settles.column : ''} />
      {choices.map(({ value, label }) => (
        <button
          key={value}
          type="submit"
          name="answer"
          value={value}
          className={styles.quiet}
          aria-pressed={said === null ? undefined : said === value}
        >
          {label}
        </button>
      ))}
    </form>
  )
}
