'use client'

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

type Action = (before: FormState, data: FormData) => Promise<FormState>

const Answer = createContext<{ state: FormState; formId: string }>({ state: UNTOUCHED, formId: '' })

/**
 * A form that keeps what was typed when something in it has to be mended, and says so in a summary that takes the
 * focus. Sends itself without script too.
 */
export function KeptForm({
  action,
  submit,
  children,
}: {
  action: Action
  submit: string
  children: ReactNode
}) {
  const [state, send, sending] = useActionState(action, UNTOUCHED)
  const formId = useId()
  return (
    <Answer value={{ state, formId }}>
      <form className={styles.form} action={send} noValidate>
        <Outcome />
        {/* Made anew after each answer, so that fields begin with what was typed. */}
        <Fragment key={state.tries}>{children}</Fragment>
        <button type="submit" className={styles.submit} aria-disabled={sending}>
          {submit}
        </button>
      </form>
    </Answer>
  )
}

/** What came of it: what is wrong, each a link to its field; or what was done. */
function Outcome() {
  const { state, formId } = useContext(Answer)
  const summary = useRef<HTMLDivElement>(null)
  useEffect(() => {
    if (state.tries > 0) summary.current?.focus()
    if (state.errors.length > 0 && !document.title.startsWith('Error: '))
      document.title = `Error: ${document.title}`
  }, [state])
  if (state.done)
    return (
      <div ref={summary} className={styles.done} role="status" tabIndex={-1}>
        <p>{state.done.words}</p>
        {state.done.once !== undefined && <code className={styles.once}>{state.done.once}</code>}
      </div>
    )
  if (state.errors.length === 0) return null
  return (
    <div ref={summary} className={styles.summary} role="alert" tabIndex={-1}>
      <p>This has to be mended first:</p>
      <ul>
        {state.errors.map(({ field, message }) => (
          <li key={field}>{field === null ? message : <a href={`#${formId}${field}`}>{message}</a>}</li>
        ))}
      </ul>
    </div>
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
