import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { can } from '@/lib/people/permissions'
import { requirePerson } from '../../../../require-person'
import { type Formats, formatsFor } from '../../../../ui/formats'
import { Frame } from '../../../../ui/frame'
import { KeptForm } from '../../../../ui/kept-form'
import { Link } from '../../../../ui/link'
import { LETTER } from '../../../../ui/page-words'
import { CALL_KINDS } from '../../../../ui/told-words'
import { CAUTION } from '../../../../ui/words'
import { noteLetter, noteOptOut, takeLetterBack } from '../../../calls/call-actions'
import { silenceWords, telephoneWords } from '../../../calls/call-words'
import styles from '../../../calls/calls.module.css'
import { PaperPage } from '../../../paper/paper-page'
import { letterMark, letterPaper, letterText } from './letter-paper'
import { readLetterPage } from './read-letter-page'

type Props = { params: Promise<{ unit: string }> }
type Found = NonNullable<Awaited<ReturnType<typeof readLetterPage>>>

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `${LETTER} ${decodeURIComponent((await params).unit)}` }
}

/** A letter to the customer about what a job now would save them; or why there is none. */
export default async function LetterPage({ params }: Props) {
  const unit = decodeURIComponent((await params).unit)
  const { database, organisation, role } = await requirePerson()
  const found = await readLetterPage({ database, organisation }, unit, new Date())
  if (!found) notFound()
  const formats = formatsFor(found.terms, found.terms.distance)
  const { letter } = found
  const paper = letter && letterPaper(letter, formats)
  return (
    <Frame asOf={null} choices={[]}>
      {paper ? (
        <>
          <PaperPage
            paper={paper}
            back={{ address: '/calls', words: 'Back to the calls' }}
            pdf={`/vehicles/${encodeURIComponent(unit)}/letter.pdf`}
          />
          <div className={styles.acts}>
            {can(role, 'plan') && (
              <KeptForm
                action={noteLetter.bind(null, unit, letterMark(letterText(paper)))}
                submit="It was written: note it"
              />
            )}
          </div>
        </>
      ) : (
        <NoLetter {...{ unit, found, formats }} />
      )}
      <Customer
        {...{ found, formats }}
        mayOptOut={can(role, 'answer-proposals')}
        mayUndo={can(role, 'plan')}
      />
    </Frame>
  )
}

type ToldProps = { found: Found; formats: Formats }

/** Why there is no letter, and what to do instead. */
function NoLetter({ unit, found: { row, quietMonths }, formats }: ToldProps & { unit: string }) {
  const { call, contact, customer } = row
  return (
    <>
      <p>
        <Link href="/calls">Back to the calls</Link>
      </p>
      <h1>No letter about {unit}</h1>
      {call.kind === 'telephone' && (
        <p>
          {CALL_KINDS.telephone}: {telephoneWords(row, formats)} {customer} {contact}
        </p>
      )}
      {call.kind === 'ask-first' && (
        <p>
          {CALL_KINDS['ask-first']}: nothing was heard of it for {formats.count(quietMonths)} months. Ask{' '}
          {customer} ({contact ?? 'no contact on record'}) whether they still have it, and enter the odometer
          on <Link href={`/vehicles/${encodeURIComponent(unit)}?enter=reading#enter`}>its page</Link>; then
          there may be a letter.
        </p>
      )}
      {call.kind === 'silent' && <p>{silenceWords(call.silence, formats)}.</p>}
      {call.kind === 'write' && <p>Its scores are being made anew. Look again in a moment.</p>}
      <p>{CAUTION}</p>
    </>
  )
}

/** What was written to the present owner, and whether they want letters. */
function Customer({
  found: { row, written, optOut },
  mayOptOut,
  mayUndo,
  formats,
}: ToldProps & { mayOptOut: boolean; mayUndo: boolean }) {
  const { customer } = row
  return (
    <div className={styles.customer}>
      {written.map(({ id, writtenAt, writtenByName, content }) => (
        <details key={id}>
          <summary>
            Written {formats.moment(writtenAt)}
            {writtenByName && ` (${writtenByName})`}
          </summary>
          <p className={styles.text}>{content}</p>
          {mayUndo && (
            <form action={takeLetterBack.bind(null, id)}>
              <button type="submit" className={styles.plain}>
                Undo: it did not go out
              </button>
            </form>
          )}
        </details>
      ))}
      {mayOptOut && customer !== null && optOut === null && (
        <form action={noteOptOut.bind(null, customer)} className={styles.acts}>
          <button type="submit" className={styles.plain}>
            {customer} wants no letters
          </button>
        </form>
      )}
    </div>
  )
}
