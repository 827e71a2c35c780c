import type { ReactNode } from 'react'
import type { Family, Sign } from '@/lib/records/library'
import { LAMP_ON } from '@/lib/records/rows'
import { signsByHand, signsByZone } from '@/lib/records/signs-by-zone'
import { AreaField, CheckField, ChoiceField, TextField } from '../../../ui/kept-form'
import { SIGN_KINDS } from '../../../ui/library-words'
import { CHANGE_MEANS, CHANGES } from '../../../ui/record-words'
import styles from './vehicle.module.css'

export function ReadingFields() {
  return (
    <TextField
      name="engine_hours"
      label="Engine hours, if it counts them"
      inputMode="decimal"
      autoComplete="off"
    />
  )
}

export function CodeFields() {
  return (
    <>
      <AreaField
        name="codes"
        label="Trouble codes"
        hint="One or several, typed or pasted from a report: P0302, or SPN 94 FMI 18."
      />
      <CheckField name="none" label="The control unit was read, and it had no codes" />
      <CheckField name="all" label="It was a full scan: there are no codes but these" />
      <CheckField name="cleared" label="They were cleared afterwards" />
      <ChoiceField
        name="lamp"
        label="Was the engine lamp on?"
        value=""
        options={[
          { value: '', label: 'not known' },
          { value: 'yes', label: 'yes' },
          { value: 'no', label: 'no' },
        ]}
      />
      <TextField
        name="since_cleared"
        label="Distance since codes were last cleared, if it is known"
        hint="A scan soon after clearing proves little."
        inputMode="decimal"
        autoComplete="off"
      />
    </>
  )
}

const NO_SIGNS = 'The library knows no signs of this engine. Record what was found as codes or as a repair.'

const LOOKED = [
  { value: '', label: 'not looked at' },
  { value: 'not-seen', label: 'not seen' },
  { value: 'seen', label: 'seen' },
]

type Looking = {
  family: Family | null
  zones: string[]
  /** What stands below the signs of a zone. */
  foot?: (zone: string) => ReactNode
}

/** Every sign of the engine that is looked for by hand, in the order of a walk round it, each with its how-to. */
export function LookFields({ family, zones: order, foot }: Looking) {
  const zones = family ? signsByZone(signsByHand(family), order) : []
  if (zones.length === 0) return <p>{NO_SIGNS}</p>
  return zones.map(({ zone, signs }) => (
    <section key={zone} className={styles.zone}>
      <h3>{zone}</h3>
      {signs.map((sign) => (
        <div key={sign.key} className={styles.sign}>
          <ChoiceField
            name={`sign:${sign.key}`}
            label={sign.label}
            hint={[upperFirst(SIGN_KINDS[sign.kind]), sign.how].filter(Boolean).join('. ')}
            value=""
            options={LOOKED}
          />
          <Positions sign={sign} />
        </div>
      ))}
      {foot?.(zone)}
    </section>
  ))
}

/**
 * What a driver or customer noticed.
 *
 * @param said their words, where they are on record already
 */
export function ReportFields({ family, said }: { family: Family | null; said?: string }) {
  const signs = (family?.signs ?? []).filter(
    ({ kind, retired }) => !retired && kind !== 'measure' && kind !== 'code',
  )
  return (
    <>
      <fieldset className={styles.said}>
        <legend>What was noticed</legend>
        <CheckField name={`sign:${LAMP_ON}`} label="Engine lamp" />
        {signs.map(({ key, label }) => (
          <CheckField key={key} name={`sign:${key}`} label={label} />
        ))}
      </fieldset>
      <TextField name="said" label="In their words" value={said} autoComplete="off" />
    </>
  )
}

/** A new owner has a form of its own, which asks for the name too. */
const CHANGED = Object.entries(CHANGES).filter(([kind]) => kind !== 'owner') as [
  keyof typeof CHANGES,
  string,
][]

/** The engine or what counts its distance was changed; each with what that means for the chances. */
export function ChangeFields({ distance }: { distance: 'km' | 'mi' }) {
  return (
    <>
      <ChoiceField
        name="kind"
        label="What was changed"
        options={CHANGED.map(([value, label]) => ({ value, label: `${label}: ${CHANGE_MEANS[value]}` }))}
      />
      <TextField
        name="engine_km"
        label="A used engine had run"
        hint="Blank: taken to have run as far as the vehicle."
        unit={distance}
        inputMode="decimal"
        autoComplete="off"
      />
      <TextField
        name="offset_km"
        label="With a new instrument: the vehicle had run"
        hint="Added to what the new one says, if it began at nought. Blank: reckoned from the readings, and asked about."
        unit={distance}
        inputMode="decimal"
        autoComplete="off"
      />
    </>
  )
}

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

function Positions({ sign: { key, label, positions } }: { sign: Sign }) {
  if (positions === 1) return null
  return (
    <fieldset className={styles.positions}>
      <legend>At which, if it was seen</legend>
      {Array.from({ length: positions }, (_, i) => i + 1).map((position) => (
        <CheckField key={`${label} ${position}`} name={`at:${key}:${position}`} label={String(position)} />
      ))}
    </fieldset>
  )
}
