import type { WeakPointDraft } from '@/lib/intake/family-draft'
import type { Terms } from '@/lib/store/read/terms'
import { milesFromKm } from '@/lib/units/distances'
import { AreaField, ChoiceField, SelectField, TextField } from '../../../../../../ui/kept-form'
import {
  AGEING,
  CLOCK_OPTIONS,
  CONFIDENCE_OPTIONS,
  positionOptions,
  SEVERITY_OPTIONS,
  withValue,
  YES_NO,
} from '../../../choices'
import { ZoneField } from '../../zone-field'
import { LifeEcho } from './life-echo'

type Stated = { stated: WeakPointDraft | undefined }

export function PartFields({
  stated,
  cylinders,
  zones,
}: Stated & { cylinders: number; zones: readonly string[] }) {
  return (
    <>
      <TextField
        name="component"
        label="Which part"
        hint="As you call it: water pump, injector."
        value={stated?.component}
      />
      <TextField
        name="failureMode"
        label="How it fails"
        hint="In a few words: leaks, wears, breaks. May be left out."
        value={stated?.failureMode}
      />
      <SelectField
        name="positions"
        label="How many of it the engine has"
        options={positionOptions(cylinders)}
        value={String(stated?.positions ?? 1)}
      />
      <ZoneField zone={stated?.zone} zones={zones} />
      <TextField name="part" label="Part number" hint="May be left out." value={stated?.part ?? undefined} />
    </>
  )
}

/** How long it lasts, and how sure that is; what it says is said back while it is typed. */
export function LifeFields({ stated, terms }: Stated & { terms: Terms }) {
  const { distance, locale } = terms
  const told = (amount: number | undefined) => typedAmount(amount, stated?.clock, distance)
  return (
    <>
      <ChoiceField
        name="clock"
        label="What it ages by"
        options={CLOCK_OPTIONS}
        value={stated?.clock ?? 'distance'}
      />
      <TextField
        name="p10"
        label="One in ten have started to go by"
        hint={`In ${distance}, engine hours or years, like 90 000 or 90k.`}
        inputMode="text"
        value={told(stated?.onset.p10)}
      />
      <TextField name="p50" label="Half have started to go by" value={told(stated?.onset.p50)} />
      <TextField
        name="warning"
        label="From the first sign to the breakdown it runs for"
        hint="What is usual: half run longer. 0 where it breaks down without warning."
        value={told(stated?.warning)}
      />
      <SelectField
        name="duty:short"
        label="On short trips it ages, against mixed use"
        options={withValue(AGEING, stated?.duty?.short)}
        value={String(stated?.duty?.short ?? 1)}
      />
      <SelectField
        name="duty:long"
        label="On long runs it ages, against mixed use"
        options={withValue(AGEING, stated?.duty?.long)}
        value={String(stated?.duty?.long ?? 1)}
      />
      <TextField
        name="renewEvery"
        label="It is replaced by schedule every"
        hint="As the maker says, in the same measure. May be left out."
        value={told(stated?.renewEvery ?? undefined)}
      />
      <LifeEcho locale={locale} currency={terms.currency} distance={distance} />
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
        value={stated?.grounds ?? undefined}
      />
      <TextField name="statedBy" label="Who states it" hint={statedHint(stated)} />
      <TextField
        name="statedOn"
        label="Since when"
        type="date"
        hint="Left blank: today, where you change anything."
      />
      <TextField
        name="reviewBy"
        label="To be looked at again by"
        type="date"
        hint="It is listed on the page of the engines from then on. May be left out."
        value={stated?.reviewBy ?? undefined}
      />
    </>
  )
}

/** Whose statement it is so far: what is left blank stays, or becomes that of whoever changes it. */
function statedHint(stated: WeakPointDraft | undefined): string {
  const { statedBy, statedOn } = stated ?? {}
  const now = [statedBy, statedOn].filter(Boolean).join(', ')
  const blank = 'Left blank: you, where you change anything.'
  return now === '' ? blank : `So far: ${now}. ${blank}`
}

/** What going and mending it costs. All of it may be left out; then nothing can be said about money. */
export function CostFields({ stated, currency }: Stated & { currency: string | null }) {
  const { parts, hours, failureExtra, daysOff } = stated?.cost ?? {}
  const number = (value: number | undefined) =>
    value === undefined || value === 0 ? undefined : String(value)
  const money = { inputMode: 'decimal' as const, unit: currency ?? undefined }
  return (
    <>
      <ChoiceField
        name="severity"
        label="Once it has failed"
        options={SEVERITY_OPTIONS}
        value={stated?.severity ?? 'soon'}
      />
      <ChoiceField
        name="harm"
        label="Can its failure harm people (fire, fuel, loss of drive)?"
        options={YES_NO}
        value={stated?.harm ? 'yes' : 'no'}
      />
      <TextField name="parts" label="Parts cost" hint="May be left out." {...money} value={number(parts)} />
      <TextField name="hours" label="Work takes" unit="hours" inputMode="decimal" value={number(hours)} />
      <TextField
        name="failureExtra"
        label="A breakdown costs more by"
        hint="What else it ruins, and the tow."
        {...money}
        value={number(failureExtra)}
      />
      <TextField
        name="daysOff"
        label="A breakdown takes it off the road for"
        unit="days"
        inputMode="decimal"
        value={number(daysOff)}
      />
      <AreaField
        name="cautions"
        label="Cautions for whoever does the job"
        hint="Hot, under pressure, under voltage? One a line. May be left out."
        value={stated?.cautions?.join('\n')}
      />
    </>
  )
}

/** An amount as somebody would type it, which reads back as what it was. */
export function typedAmount(
  amount: number | undefined,
  clock: WeakPointDraft['clock'] = 'distance',
  distance: 'km' | 'mi',
): string | undefined {
  if (amount === undefined) return undefined
  if (clock === 'time') return `${amount} days`
  // One decimal of a mile reads back as the same whole number of km.
  if (clock === 'distance' && distance === 'mi') return `${Number(milesFromKm(amount).toFixed(1))} mi`
  return String(amount)
}
