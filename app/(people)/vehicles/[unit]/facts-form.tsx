import { rowObject } from '@/lib/intake/row-object'
import type { Family } from '@/lib/records/library'
import type { VehicleRow } from '@/lib/records/rows'
import { ChoiceField, KeptForm, SelectField, TextField } from '../../../ui/kept-form'
import { DUTIES } from '../../../ui/library-words'
import { changeFacts } from './facts-actions'
import styles from './vehicle.module.css'

type Props = { vehicle: VehicleRow; families: Family[] }

const options = (words: Record<string, string>) =>
  Object.entries(words).map(([value, label]) => ({ value, label }))

/** What the vehicle is. A field that is left blank is not known. */
export function FactsForm({ vehicle, families }: Props) {
  const cells = rowObject('vehicles', vehicle)
  const text = (column: string) => (cells[column] == null ? '' : String(cells[column]))
  const family = families.find(({ key }) => key === vehicle.family)
  const engines = families.map(({ key, name }) => ({ value: key, label: name }))
  if (!family) engines.unshift({ value: vehicle.family, label: `${vehicle.family} (not in the library)` })
  return (
    <KeptForm action={changeFacts.bind(null, vehicle.unit)} submit="Change the vehicle">
      <div className={styles.columns}>
        <SelectField name="family" label="Engine" value={vehicle.family} options={engines} />
        <SelectField
          name="variant"
          label="Version of the engine"
          value={vehicle.variant ?? ''}
          options={[
            { value: '', label: 'not known' },
            ...(family?.variants ?? []).map(({ key, name }) => ({ value: key, label: name })),
          ]}
        />
        <TextField name="plate" label="Plate" value={text('plate')} autoComplete="off" />
        <TextField name="vin" label="Vehicle identification number" value={text('vin')} autoComplete="off" />
        <TextField name="site" label="Where it is kept" value={text('site')} autoComplete="off" />
        <TextField
          name="value"
          label="What it is worth"
          value={text('value')}
          inputMode="decimal"
          autoComplete="off"
        />
      </div>
      <ChoiceField name="duty" label="Use" value={vehicle.duty} options={options(DUTIES)} />
    </KeptForm>
  )
}
