import { VEHICLE_NUMBERS } from '@/lib/records/settings'
import { ChoiceField, SelectField, TextField } from './kept-form'
import { DISTANCE_WORDS, VEHICLE_NUMBER } from './words'

type Props = {
  name?: string
  currency?: string | null
  distance: 'km' | 'mi'
  vehicleNumber?: keyof typeof VEHICLE_NUMBER
}

/** What every organisation says of itself: its name, and what its numbers are told in. */
export function OrganisationFields({ name, currency, distance, vehicleNumber = 'vehicle' }: Props) {
  return (
    <>
      <TextField name="name" label="Name of the organisation" value={name} autoComplete="organization" />
      <SelectField
        name="currency"
        label="Currency"
        value={currency ?? ''}
        options={[{ value: '', label: 'Choose one' }, ...currencies()]}
      />
      <ChoiceField
        name="distance"
        label="Distances in"
        value={distance}
        options={(['km', 'mi'] as const).map((value) => ({ value, label: DISTANCE_WORDS[value] }))}
      />
      <ChoiceField
        name="vehicleNumber"
        label="A vehicle goes by its"
        value={vehicleNumber}
        options={VEHICLE_NUMBERS.map((value) => ({ value, label: VEHICLE_NUMBER[value] }))}
      />
    </>
  )
}

/** Every currency by its code, with its English name. */
function currencies(): { value: string; label: string }[] {
  const names = new Intl.DisplayNames('en', { type: 'currency' })
  return Intl.supportedValuesOf('currency').map((code) => ({
    value: code,
    label: `${code} – ${names.of(code)}`,
  }))
}
