import type { FamilyDraft, WeakPointDraft } from '@/lib/intake/family-draft'
import { byField, COUNT_PLACES, ofField, RANGE_FIELD } from '@/lib/intake/onset-typed'
import { isWarningTaken, ownGrounds } from '@/lib/intake/starter-form'
import { detectIn, SIGN_DEFAULTS, SIGN_FIELDS, signOf } from '@/lib/intake/starter-sign'
import { typedThousands } from '@/lib/intake/thousands'
import type { Terms } from '@/lib/store/read/terms'
import { AreaField, ChoiceField, SelectField, TextField } from '../../../../../ui/kept-form'
import { CAUTION, DISTANCE_WORDS } from '../../../../../ui/words'
import {
  CONFIDENCE_OPTIONS,
  KIND_OPTIONS,
  LEAKS,
  positionOptions,
  SEVERITY_OPTIONS,
  SHOWS,
  withValue,
  YES_NO,
} from '../../choices'
import { OnsetEcho } from '../../onset-echo'
import styles from '../../starter.module.css'
import { typedAmount } from '../weak-points/[key]/fields'

type Props = { family: FamilyDraft; stated: WeakPointDraft | undefined; terms: Terms }

/** Everything that the short form asks of one weak point. */
export function PointFields({ family, stated, terms }: Props) {
  return (
    <>
      <PartGroup {...{ family, stated, terms }} />
      <OnsetGroup {...{ family, stated, terms }} />
      <SignGroup {...{ family, stated, terms }} />
      <FailureGroup {...{ family, stated, terms }} />
    </>
  )
}

function PartGroup({ family, stated }: Props) {
  return (
    <>
      <TextField
        name="component"
        label="Which part"
        hint="As you call it: water pump, injector."
        value={stated?.component}
      />
      <div className={styles.pairs}>
        <TextField
          name="failureMode"
          label="How it fails"
          hint="May be left out."
          value={stated?.failureMode}
        />
        <SelectField
          name="positions"
          label="How many of it the engine has"
          options={positionOptions(family.cylinders)}
          value={String(stated?.positions ?? 1)}
        />
      </div>
    </>
  )
}

function OnsetGroup({ stated, terms: { distance, locale } }: Props) {
  const thousands = `thousand ${distance}`
  const told = stated && { 1: stated.onset.p10, 2: stated.onset.p50 }
  const known = (place: number) => (place === 1 || place === 2 ? told?.[place] : undefined)
  const counts: Record<number, string> = { 1: '10', 2: '50' }
  return (
    <section className={styles.group} aria-labelledby="when">
      <h2 id="when">When it begins to go</h2>
      <p className={styles.note}>
        Not when it breaks down: when it begins to show. Either a range, which is read as one in ten by its
        beginning and nine in ten by its end; or of 100 such parts how many, for at least two distances. Where
        an engine has several of it, count the parts.
      </p>
      <TextField
        name={RANGE_FIELD}
        label="It begins between"
        hint={`In thousands of ${DISTANCE_WORDS[distance]}, like 80 to 120. 80,000 and 80k are understood too.`}
        unit={thousands}
        autoComplete="off"
      />
      <div className={styles.pairs}>
        {COUNT_PLACES.map((place) => {
          const km = known(place)
          return [
            <TextField
              key="by"
              name={byField(place)}
              label={place === 1 ? 'Or: by' : 'By'}
              unit={thousands}
              inputMode="decimal"
              autoComplete="off"
              value={km === undefined ? undefined : typedThousands(km, distance)}
            />,
            <TextField
              key="of"
              name={ofField(place)}
              label="so many have begun"
              unit="of 100"
              inputMode="numeric"
              autoComplete="off"
              value={km === undefined ? undefined : counts[place]}
            />,
          ]
        })}
      </div>
      <OnsetEcho locale={locale} distance={distance} />
      <ChoiceField
        name="confidence"
        label="How sure you are"
        options={CONFIDENCE_OPTIONS}
        value={stated?.confidence}
      />
      <TextField
        name="grounds"
        label="What that rests on"
        hint="Own workshop since 2019; a bulletin; what others say. May be left out."
        value={stated && ownGrounds(stated)}
      />
      <TextField
        name="warning"
        label="From the first sign to the breakdown it runs for"
        hint={`Half run longer. Empty: you do not know, and a twentieth of the distance by which half have begun is taken. 0: it breaks down without warning.`}
        unit={distance}
        autoComplete="off"
        value={
          stated && !isWarningTaken(stated) ? typedAmount(stated.warning, 'distance', distance) : undefined
        }
      />
    </section>
  )
}

function SignGroup({ family, stated }: Props) {
  const sign = stated && signOf(family, stated.key)
  const [detect, leak] = [sign && detectIn(sign, stated.key), sign?.leak]
  return (
    <section className={styles.group} aria-labelledby="shows">
      <h2 id="shows">What shows it first</h2>
      <TextField
        name={SIGN_FIELDS.label}
        label="The sign"
        hint="Rattle at a cold start; oil on the cover; P0302, or P030# for one a cylinder, which makes it one that is read out. May be left out."
        list="signs"
        autoComplete="off"
        value={sign?.label}
      />
      <datalist id="signs">
        {(family.signs ?? []).map(({ key, label }) => (
          <option key={key} value={label} />
        ))}
      </datalist>
      <ChoiceField
        name={SIGN_FIELDS.kind}
        label="How it is found"
        options={KIND_OPTIONS}
        value={sign?.kind ?? 'visual'}
      />
      <div className={styles.pairs}>
        <SelectField
          name={SIGN_FIELDS.detect}
          label="Of 10 looks while it goes, it is seen"
          options={withValue(SHOWS, detect).filter(({ value }) => value !== '0')}
          value={String(detect ?? SIGN_DEFAULTS.detect)}
        />
        <SelectField
          name={SIGN_FIELDS.leak}
          label="It shows without cause"
          options={withValue(LEAKS, leak)}
          value={String(leak ?? SIGN_DEFAULTS.leak)}
        />
      </div>
    </section>
  )
}

function FailureGroup({ stated, terms: { currency } }: Props) {
  const { parts, hours, failureExtra, daysOff } = stated?.cost ?? {}
  const number = (value: number | undefined) => (value ? String(value) : undefined)
  const money = { inputMode: 'decimal' as const, unit: currency ?? undefined }
  const time = { inputMode: 'decimal' as const }
  return (
    <section className={styles.group} aria-labelledby="fails">
      <h2 id="fails">Once it has failed</h2>
      <ChoiceField
        name="severity"
        label="What is due then"
        options={SEVERITY_OPTIONS}
        value={stated?.severity ?? 'soon'}
      />
      <ChoiceField
        name="harm"
        label="Can its failure harm people (fire, fuel, loss of drive)?"
        options={YES_NO}
        value={stated?.harm ? 'yes' : 'no'}
      />
      <p className={styles.note}>
        What it costs may be left out, all of it or some; what needs money then says so.
      </p>
      <div className={styles.pairs}>
        <TextField name="parts" label="Parts cost" {...money} value={number(parts)} />
        <TextField name="hours" label="Work takes" unit="hours" {...time} value={number(hours)} />
        <TextField
          name="failureExtra"
          label="A breakdown costs more by"
          {...money}
          value={number(failureExtra)}
        />
        <TextField
          name="daysOff"
          label="It is then off the road"
          unit="days"
          {...time}
          value={number(daysOff)}
        />
      </div>
      <AreaField
        name="cautions"
        label="Cautions for whoever does the job"
        hint="Hot, under pressure, under voltage? One a line. May be left out."
        value={stated?.cautions?.join('\n')}
      />
      <p className={styles.note}>{CAUTION}</p>
    </section>
  )
}
