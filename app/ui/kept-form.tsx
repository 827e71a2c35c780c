'use client'

import { useRouter } from 'next/navigation'
import {
  createContext,
  Fragment,
  type InputHTMLAttributes,
  type ReactNode,
  useActionState,
  useContext,
  useEffect,
  useId,
  useRef,
} from 'react'
import { type FormState, UNTOUCHED } from './form-state'
import styles from './kept-form.module.css'
import { Link } from './link'

type Action = (before: FormState, data: FormData) => Promise<FormState>

const Answer = createContext<{ state: FormState; formId: string }>({ state: UNTOUCHED, formId: '' })

/**
 * A form that keeps what was typed when something in it has to be mended, and says so in a summary that takes the
 * focus. Sends itself without script too.
 */
export function KeptForm({
  action,
  submit,
  begun,
  children,
}: {
  action: Action
  /** Null where there is nothing to send any more, and what came of it is still told. */
  submit: string | null
  /** What was filled in earlier, and not sent. */
  begun?: Record<string, string>
  children?: ReactNode
}) {
  const [state, send, sending] = useActionState(action, begun ? { ...UNTOUCHED, values: begun } : UNTOUCHED)
  const formId = useId()
  const router = useRouter()
  useEffect(() => {
    if (state.done?.readAnew) router.refresh()
  }, [state, router])
  return (
    <Answer value={{ state, formId }}>
      <div className={styles.form}>
        <Outcome send={send} />
        <form className={styles.form} action={send} noValidate>
          {/* Made anew after each answer, so that fields begin with what was typed. */}
          <Fragment key={state.tries}>{children}</Fragment>
          {submit !== null && (
            <button type="submit" className={styles.submit} aria-disabled={sending}>
              {submit}
            </button>
          )}
        </form>
      </div>
    </Answer>
  )
}

/** What came of it: what is wrong, each a link to its field; what is asked first; or what was done. */
function Outcome({ send }: { send: (data: FormData) => void }) {
  const { state, formId } = useContext(Answer)
  const summary = useRef<HTMLDivElement>(null)
  useEffect(() => {
    if (state.tries > 0) summary.current?.focus()
    if (state.errors.length > 0 && !document.title.startsWith('Error: '))
      document.title = `Error: ${document.title}`
  }, [state])
  const { done, question, errors, values } = state
  if (done)
    return (
      <div ref={summary} className={styles.done} role="status" tabIndex={-1}>
        <p>{done.words}</p>
        {done.lines && done.lines.length > 0 && (
          <ul>
            {done.lines.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        )}
        {done.once !== undefined && <code className={styles.once}>{done.once}</code>}
        {done.next && <Link href={done.next.address}>{done.next.words}</Link>}
        {done.undo !== undefined && <AnswerButton send={send} words="Undo" sent={{ undo: done.undo }} />}
      </div>
    )
  if (question)
    return (
      <div ref={summary} className={styles.summary} role="alert" tabIndex={-1}>
        <p>{question.words}</p>
        <AnswerButton send={send} words={question.yes} sent={{ ...values, sure: question.sure }} />
      </div>
    )
  if (errors.length === 0) return null
  return (
    <div ref={summary} className={styles.summary} role="alert" tabIndex={-1}>
      <p>This has to be mended first:</p>
      <ul>
        {errors.map(({ field, message }) => (
          <li key={field}>{field === null ? message : <a href={`#${formId}${field}`}>{message}</a>}</li>
        ))}
      </ul>
    </div>
  )
}

/** A form of one button, so that Enter in a field never presses it. */
function AnswerButton(props: {
  send: (data: FormData) => void
  words: string
  sent: Record<string, string>
}) {
  const { send, words, sent } = props
  return (
    <form action={send}>
      {Object.entries(sent).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      <button type="submit" className={styles.answer}>
        {words}
      </button>
    </form>
  )
}

type Told = { name: string; label: string; hint?: string }

/** The label, hint and error of one field, and what ties them to its control. */
function useField({ name, hint }: Told) {
  const { state, formId } = useContext(Answer)
  const id = `${formId}${name}`
  const error = state.errors.find(({ field }) => field === name)?.message
  const notes = [hint && `${id}-hint`, error && `${id}-error`].filter(Boolean).join(' ')
  return {
    id,
    error,
    typed: state.values[name],
    marks: { 'aria-describedby': notes || undefined, 'aria-invalid': error ? true : undefined },
  }
}

function Field({
  told,
  field,
  children,
}: {
  told: Told
  field: ReturnType<typeof useField>
  children: ReactNode
}) {
  return (
    <div className={styles.field}>
      <label htmlFor={field.id}>{told.label}</label>
      {told.hint && (
        <p id={`${field.id}-hint`} className={styles.hint}>
          {told.hint}
        </p>
      )}
      {field.error && (
        <p id={`${field.id}-error`} className={styles.error}>
          {field.error}
        </p>
      )}
      {children}
    </div>
  )
}

type TextProps = Told & {
  unit?: string
  value?: string
} & Pick<
    InputHTMLAttributes<HTMLInputElement>,
    'type' | 'inputMode' | 'autoComplete' | 'placeholder' | 'list' | 'spellCheck'
  >

/** One line of text, with its unit beside it. */
export function TextField({ name, label, hint, unit, value, ...input }: TextProps) {
  const told = { name, label, hint }
  const field = useField(told)
  return (
    <Field told={told} field={field}>
      <span className={styles.withUnit}>
        <input
          id={field.id}
          className={unit === undefined ? styles.control : `${styles.control} ${styles.measure}`}
          name={name}
          defaultValue={field.typed ?? value}
          {...field.marks}
          {...input}
        />
        {unit !== undefined && <span className={styles.unit}>{unit}</span>}
      </span>
    </Field>
  )
}

/** Several lines of text. */
export function AreaField({ name, label, hint, value }: Told & { value?: string }) {
  const told = { name, label, hint }
  const field = useField(told)
  return (
    <Field told={told} field={field}>
      <textarea
        id={field.id}
        className={styles.control}
        name={name}
        rows={3}
        defaultValue={field.typed ?? value}
        {...field.marks}
      />
    </Field>
  )
}

/** Yes, or left alone. */
export function CheckField({
  name,
  label,
  value = 'yes',
}: Pick<Told, 'name' | 'label'> & { value?: string }) {
  const field = useField({ name, label })
  return (
    <label className={styles.check}>
      <input
        type="checkbox"
        id={field.id}
        name={name}
        value={value}
        defaultChecked={field.typed === value}
        {...field.marks}
      />
      {label}
    </label>
  )
}

type Option = { value: string; label: string }

/** One of many, in a list that folds. */
export function SelectField({
  options,
  value,
  ...told
}: Told & { options: readonly Option[]; value?: string }) {
  const field = useField(told)
  return (
    <Field told={told} field={field}>
      <select
        className={styles.control}
        id={field.id}
        name={told.name}
        defaultValue={field.typed ?? value}
        {...field.marks}
      >
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.label}
          </option>
        ))}
      </select>
    </Field>
  )
}

/** One of a few, all in sight. */
export function ChoiceField({
  options,
  value,
  ...told
}: Told & { options: readonly Option[]; value?: string }) {
  const field = useField(told)
  return (
    <fieldset className={styles.field} {...field.marks}>
      <legend>{told.label}</legend>
      {told.hint && (
        <p id={`${field.id}-hint`} className={styles.hint}>
          {told.hint}
        </p>
      )}
      {field.error && (
        <p id={`${field.id}-error`} className={styles.error}>
          {field.error}
        </p>
      )}
      <div className={styles.choices}>
        {options.map((option, i) => (
          <label key={option.value}>
            <input
              type="radio"
              id={i === 0 ? field.id : undefined}
              name={told.name}
              value={option.value}
              defaultChecked={(field.typed ?? value) === option.value}
            />
            {option.label}
          </label>
        ))}
      </div>
    </fieldset>
  )
}
