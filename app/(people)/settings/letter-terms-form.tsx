import { letterTerms } from '@/lib/jobs/calls'
import type { Settings } from '@/lib/records/settings'
import { KeptForm, TextField } from '../../ui/kept-form'
import { changeLetterTerms } from './actions'

/** What customers pay, how often they are written to, and when they are asked first. */
export function LetterTermsForm({ settings, currency }: { settings: Settings; currency: string | null }) {
  const text = (value: number | null | undefined) => (value == null ? '' : String(value))
  const own = 'Blank: the same as above.'
  const terms = letterTerms(settings)
  const money = { unit: currency ?? undefined, inputMode: 'decimal' as const, hint: own }
  return (
    <KeptForm action={changeLetterTerms} submit="Keep for letters">
      <TextField
        {...money}
        name="customerLabourRate"
        label="A customer pays for an hour of labour"
        value={text(settings.customerLabourRate)}
      />
      <TextField
        name="customerPartsFactor"
        label="A customer pays for parts"
        hint="So many times the price in the library. Blank: once."
        inputMode="decimal"
        unit="times"
        value={text(settings.customerPartsFactor)}
      />
      <TextField
        {...money}
        name="customerVisit"
        label="A customer pays for a visit, beside its jobs"
        value={text(settings.customerVisit)}
      />
      <TextField
        {...money}
        name="customerDayOffRoad"
        label="A day without the vehicle costs a customer"
        value={text(settings.customerDayOffRoad)}
      />
      <TextField
        name="letterEveryDays"
        label="Nobody is written to again within"
        hint="90 is common practice; no source is known."
        inputMode="numeric"
        unit="days"
        value={text(terms.letterEveryDays)}
      />
      <TextField
        name="quietMonths"
        label="Ask first where nothing was recorded for"
        hint="15 is common practice where vehicles come once a year; no source is known."
        inputMode="numeric"
        unit="months"
        value={text(terms.quietMonths)}
      />
    </KeptForm>
  )
}
