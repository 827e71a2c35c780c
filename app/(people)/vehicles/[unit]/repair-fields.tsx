import { ON_EACH } from '@/lib/intake/form-ground'
import type { Family, WeakPoint } from '@/lib/records/library'
import { UNKNOWN_REVISION } from '@/lib/records/rows'
import { CheckField, ChoiceField, SelectField, TextField } from '../../../ui/kept-form'
import { NO_CAUTIONS } from '../../../ui/library-words'
import { ACTIONS, BECAUSE, FOUND } from '../../../ui/record-words'
import styles from './vehicle.module.css'

const options = (words: Record<string, string>) =>
  Object.entries(words).map(([value, label]) => ({ value, label }))

/** What was done to a weak point, and what was found. */
export function RepairFields({ family, weakPoint }: { family: Family | null; weakPoint: string }) {
  const point = family?.weakPoints.find(({ key }) => key === weakPoint)
  return (
    <>
      <input type="hidden" name="weak_point" value={weakPoint} />
      <h3>{point?.component ?? 'Other work'}</h3>
      {point && (
        <>
          <p className={styles.cautions}>
            <strong>Cautions:</strong> {point.cautions.length > 0 ? point.cautions.join(' ') : NO_CAUTIONS}
          </p>
          {point.positions > 1 && <WhichOnes point={point} />}
          <ChoiceField name="action" label="What was done" value="renew" options={options(ACTIONS)} />
          {point.revisions.length > 0 && <PartVersion point={point} />}
          <ChoiceField
            name="found"
            label="What it showed"
            value=""
            options={[NOTHING_SAID, ...options(FOUND)]}
          />
          {point.positions > 1 && <WhichOneFailed point={point} />}
          <ChoiceField
            name="because"
            label="Why it was opened"
            value=""
            options={[NOTHING_SAID, ...options(BECAUSE)]}
          />
        </>
      )}
      <div className={styles.occasion}>
        <TextField name="parts_cost" label="Parts cost" inputMode="decimal" autoComplete="off" />
        <TextField name="labour_hours" label="Hours" inputMode="decimal" autoComplete="off" />
      </div>
      <TextField name="note" label="Note" autoComplete="off" />
    </>
  )
}

const NOTHING_SAID = { value: '', label: 'not known' }

const each = ({ positions }: WeakPoint) => Array.from({ length: positions }, (_, i) => String(i + 1))

function WhichOnes({ point }: { point: WeakPoint }) {
  return (
    <fieldset className={styles.positions}>
      <legend>Which of them</legend>
      {each(point).map((position) => (
        <CheckField key={position} name={`position:${position}`} label={position} />
      ))}
    </fieldset>
  )
}

function WhichOneFailed({ point }: { point: WeakPoint }) {
  return (
    <SelectField
      name="which"
      label="Which one showed that?"
      hint="The others count as not examined, never as good."
      value=""
      options={[
        { value: '', label: 'only one was worked on' },
        ...each(point).map((position) => ({ value: position, label: position })),
        { value: ON_EACH, label: 'each of them was examined and showed it' },
      ]}
    />
  )
}

function PartVersion({ point }: { point: WeakPoint }) {
  return (
    <SelectField
      name="revision"
      label="Part version"
      value=""
      options={[
        { value: '', label: 'as original' },
        ...point.revisions
          .filter(({ retired }) => !retired)
          .map(({ key, name }) => ({ value: key, label: name ?? key })),
        { value: UNKNOWN_REVISION, label: 'not known' },
      ]}
    />
  )
}
