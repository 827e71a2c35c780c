import type { Settings } from '@/lib/records/settings'
import type { Terms } from '@/lib/store/read/terms'
import { KeptForm, TextField } from '../../ui/kept-form'
import { OrganisationFields } from '../../ui/organisation-fields'
import { ADVICE } from '../../ui/words'
import { changeTerms } from './actions'

type Props = { terms: Terms; settings: Settings }

/** The organisation's terms, to be changed by its owner. A blank price is the library's. */
export function TermsForm({ terms, settings }: Props) {
  const text = (value: number | null) => (value === null ? '' : String(value))
  const percent = (share: number) => String(Number((100 * share).toFixed(2)))
  const currency = terms.currency ?? undefined
  return (
    <KeptForm action={changeTerms} submit="Keep">
      <OrganisationFields
        name={terms.name}
        currency={terms.currency}
        distance={terms.distance}
        vehicleNumber={terms.vehicleNumber}
      />
      <TextField
        name="locale"
        label="Numbers and dates as in"
        hint="A language and region, like en-GB or de-AT."
        value={terms.locale}
        spellCheck={false}
      />
      <TextField
        name="timeZone"
        label="Time zone"
        hint="Today is today there. Like Europe/Berlin."
        value={terms.timeZone}
        spellCheck={false}
      />
      <Amount name="labourRate" label="An hour of labour" unit={currency} value={text(settings.labourRate)} />
      <Amount
        name="dayOffRoad"
        label="A day off the road"
        unit={currency}
        value={text(settings.dayOffRoad)}
      />
      <Amount name="visit" label="A visit, beside its jobs" unit={currency} value={text(settings.visit)} />
      <Amount name="slotDays" label="From one slot to the next" unit="days" value={text(settings.slotDays)} />
      <TextField
        name="adviceHorizonDays"
        label="Advice looks ahead"
        hint="Advice is made at this horizon, whatever a page shows."
        inputMode="numeric"
        unit="days"
        value={text(settings.adviceHorizonDays)}
      />
      <TextField
        name="stopLimit"
        label={`Limit of “${ADVICE.stop}”`}
        hint="The chance within the horizon from which a dangerous fault stops a vehicle."
        inputMode="decimal"
        unit="%"
        value={percent(settings.stopLimit)}
      />
      <TextField
        name="watchLimit"
        label={`Limit of “${ADVICE.watch}”`}
        hint="The chance within the horizon from which a weak point is named."
        inputMode="decimal"
        unit="%"
        value={percent(settings.watchLimit)}
      />
    </KeptForm>
  )
}

const BLANK = 'Blank: what the library says.'

function Amount(props: { name: string; label: string; unit?: string; value: string }) {
  return <TextField {...props} hint={BLANK} inputMode="decimal" />
}
