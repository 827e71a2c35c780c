import type { FormState } from '../../../ui/form-state'
import { KeptForm, TextField } from '../../../ui/kept-form'
import styles from '../families.module.css'

type Props = {
  /** What vehicles call an engine that the library does not know. */
  named: string | null
  action: (named: string | null, before: FormState, data: FormData) => Promise<FormState>
  submit: string
}

/** Which engine is going to be stated: every way of stating one begins with it. */
export function EngineSection({ named, action, submit }: Props) {
  return (
    <section className={styles.step} aria-labelledby="engine">
      <h2 id="engine">The engine</h2>
      {named !== null && (
        <p>
          Vehicles name it <strong>{named}</strong>; what you state here will be theirs.
        </p>
      )}
      <KeptForm action={action.bind(null, named)} submit={submit}>
        <TextField
          name="name"
          label="What the engine is called"
          hint="As your people call it, with its size: the 2.2 diesel."
          value={named ?? undefined}
        />
        <TextField name="cylinders" label="How many cylinders" inputMode="numeric" />
      </KeptForm>
    </section>
  )
}
