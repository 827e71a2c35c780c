import type { WorkbookProfile } from '@/lib/intake/workbook/profile'
import type { Question } from '@/lib/intake/workbook/questions'
import { Link } from '../../../../ui/link'
import styles from '../../intake.module.css'
import { answerQuestion } from './actions'

type Props = { id: string; profile: WorkbookProfile; questions: readonly Question[] }

/** What the workbook does not say of itself: silence is not taken for good news. */
export function Questions({ id, profile, questions }: Props) {
  if (questions.length === 0) return null
  return (
    <section className={styles.section} aria-labelledby="asked">
      <h2 id="asked">
        {questions.length === 1 ? 'One thing it does not say' : `${questions.length} things it does not say`}
      </h2>
      <p className={styles.soft}>
        Unanswered, what is read from silence is the least: nothing was looked for.
      </p>
      <ol className={styles.groups}>
        {questions.map((question) => (
          <li key={question.key}>
            {question.words}
            {question.sheet !== null && profile.sheets.length > 1 && <small> Sheet {question.sheet}.</small>}
            {question.choices.length > 0 ? (
              <Answers id={id} question={question} />
            ) : (
              <p>
                <Link href={`/intake/workbook/${id}${placeOf(question, profile)}`}>Say it there</Link>
              </p>
            )}
          </li>
        ))}
      </ol>
    </section>
  )
}

/** Where a question is answered that no press of one button answers. */
function placeOf({ settles, sheet }: Question, profile: WorkbookProfile): string {
  if (settles.by === 'words') return `/words/${settles.meaning}`
  return `/sheet/${profile.sheets.findIndex(({ name }) => name === sheet)}`
}

function Answers({ id, question: { sheet, settles, choices } }: { id: string; question: Question }) {
  const field = settles.by === 'answer' ? settles.question : settles.by === 'column' ? settles.field : ''
  return (
    <form action={answerQuestion} className={styles.acts}>
      <input type="hidden" name="id" value={id} />
      <input type="hidden" name="sheet" value={sheet ?? ''} />
      <input type="hidden" name="field" value={field} />
      <input type="hidden" name="column" value={settles.by === 'column' ? settles.column : ''} />
      {choices.map(({ value, label }) => (
        <button key={value} type="submit" name="answer" value={value} className={styles.quiet}>
          {label}
        </button>
      ))}
    </form>
  )
}
