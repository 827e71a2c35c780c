import type { StopNotice } from '@/lib/store/read/stop-notices'
import type { Formats } from '../../../ui/formats'
import { KeptForm, TextField } from '../../../ui/kept-form'
import { NOT_DELIVERED, placeWords, STOP_ORDERS } from '../../../ui/words'
import { markParked, releaseNotice, tellDriver } from './stop-actions'
import styles from './vehicle.module.css'

type Props = { notices: StopNotice[]; mayAnswer: boolean; stillStop: boolean; formats: Formats }

/** The notices that the vehicle must not be driven: what has been done about each, and what is next. */
export function StopPanel({ notices, mayAnswer, stillStop, formats }: Props) {
  const open = notices.filter(({ releasedAt }) => releasedAt === null)
  const last = notices.filter(({ releasedAt }) => releasedAt !== null).at(-1)
  if (open.length === 0 && !last) return null
  return (
    <section id="stop" aria-label="Do not drive">
      {open.map((notice) => (
        <article key={notice.id} className={styles.stop}>
          <h2>Do not drive. {STOP_ORDERS}</h2>
          <p>
            {[notice.name, placeWords(notice.place, notice.position)].filter(Boolean).join(', ')}:{' '}
            {notice.reason}.
          </p>
          {notice.undelivered && <p>{NOT_DELIVERED}</p>}
          <ol className={styles.steps}>
            <li>Raised {formats.moment(notice.raisedAt)}.</li>
            <Step
              done={notice.toldAt}
              what={`The driver was told: ${notice.toldWhom}`}
              by={notice.toldBy}
              formats={formats}
            >
              {mayAnswer && (
                <KeptForm action={tellDriver.bind(null, notice.id)} submit="Told">
                  <TextField
                    name="whom"
                    label="Nobody has been told. Who was told?"
                    hint="A telephone call, not a letter."
                  />
                </KeptForm>
              )}
            </Step>
            <Step done={notice.parkedAt} what="Parked" by={notice.parkedBy} formats={formats}>
              {mayAnswer && <KeptForm action={markParked.bind(null, notice.id)} submit="It is parked" />}
            </Step>
            <li>
              {mayAnswer ? (
                <details>
                  <summary>Release it</summary>
                  <KeptForm action={releaseNotice.bind(null, notice.id)} submit="Release it in my name">
                    <TextField
                      name="because"
                      label="Because of which repair or check?"
                      hint="For example: injector 3 replaced; fuel line looked at and found dry."
                    />
                  </KeptForm>
                </details>
              ) : (
                'It goes on until somebody releases it by name.'
              )}
            </li>
          </ol>
        </article>
      ))}
      {open.length === 0 && last && (
        <p className={styles.released}>
          Released by {last.releasedBy ?? 'somebody'} {last.releasedAt && formats.moment(last.releasedAt)}:{' '}
          {last.releasedBecause}.
          {stillStop &&
            ' Its records still say “do not drive”: record the repair or the look that it was released for.'}
        </p>
      )}
    </section>
  )
}

type StepProps = {
  done: Date | null
  what: string
  by: string | null
  formats: Formats
  children: React.ReactNode
}

/** A step that was taken, by whom and when; or the way to take it. */
function Step({ done, what, by, formats, children }: StepProps) {
  if (done === null) return <li>{children}</li>
  return (
    <li>
      {what}, {formats.moment(done)}
      {by && `, by ${by}`}.
    </li>
  )
}
