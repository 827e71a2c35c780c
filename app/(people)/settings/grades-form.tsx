import { gradesOf, USUAL_GRADES } from '@/lib/decisions/grades'
import type { Settings } from '@/lib/records/settings'
import { KeptForm, TextField } from '../../ui/kept-form'
import { changeGrades } from './grades-actions'
import { MOST_GRADES, shareField, wordField } from './grades-schema'
import styles from './settings.module.css'

/** The words for what is set aside, as shares of the value. */
export function GradesForm({ settings }: { settings: Settings }) {
  const own = gradesOf(settings.grades)
  const grades = own === USUAL_GRADES ? [] : own
  const percent = (share: number) => String(Number((100 * share).toFixed(2)))
  return (
    <>
      <p className={styles.note}>
        What is set aside for a vehicle, as a share of its value, in words of your own: “little” up to 5 %,
        “some” up to 12 %, and so on. The last may go without an end. All blank: no words, the share alone.
      </p>
      <KeptForm action={changeGrades} submit="Keep the words">
        <TextField
          name="enough"
          label="An amount set aside is to be enough in"
          hint="Of 100 covers. The rest cost more than was set aside."
          inputMode="numeric"
          unit="of 100"
          value={percent(settings.setAsideShare ?? 0.8)}
        />
        {Array.from({ length: MOST_GRADES }, (_, i) => (
          <fieldset key={wordField(i)} className={styles.pair}>
            <legend className="for-ears">Word {i + 1}</legend>
            <TextField
              name={wordField(i)}
              label={`Word ${i + 1}`}
              value={grades[i]?.word ?? ''}
              autoComplete="off"
            />
            <TextField
              name={shareField(i)}
              label="up to"
              unit="% of value"
              inputMode="decimal"
              value={grades[i]?.upTo == null ? '' : percent(grades[i].upTo)}
              autoComplete="off"
            />
          </fieldset>
        ))}
      </KeptForm>
    </>
  )
}
