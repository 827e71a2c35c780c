import type { Metadata } from 'next'
import { readKnownLibrary } from '@/lib/store/read/known-library'
import { readTerms } from '@/lib/store/read/terms'
import { withOrganisation } from '@/lib/store/with-organisation'
import { requirePerson } from '../../require-person'
import { Frame } from '../../ui/frame'
import { ChoiceField, KeptForm, SelectField, TextField } from '../../ui/kept-form'
import { NEW_VEHICLE } from '../../ui/page-words'
import { VEHICLE_NUMBER } from '../../ui/words'
import { addVehicle } from './actions'
import { ENGINE_NOT_KNOWN } from './engine-not-known'
import styles from './new-vehicle.module.css'
import { noticedIn, noticedWords } from './noticed'

export const metadata: Metadata = { title: NEW_VEHICLE }

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> }

/**
 * A vehicle in half a minute: four answers, of which two may be "not known". One that was only asked about comes with
 * what was said of it, in the address.
 */
export default async function NewVehiclePage({ searchParams }: Props) {
  const parameters = await searchParams
  const said = (name: string) => [parameters[name] ?? []].flat()[0] ?? ''
  const noticed = noticedIn({ getAll: (name) => [parameters[name] ?? []].flat() })
  const { database, organisation } = await requirePerson('enter-records')
  const { terms, families } = await withOrganisation(database, organisation, async (scope) => ({
    terms: await readTerms(scope),
    families: (await readKnownLibrary(scope))?.library.families.filter(({ retired }) => !retired) ?? [],
  }))
  const family = families.find(({ key }) => key === said('family')) ?? null
  const words = noticedWords(noticed, family)
  return (
    <Frame asOf={null} choices={[]}>
      <div className={styles.page}>
        <h1>{NEW_VEHICLE}</h1>
        {words.length > 0 && <p>What was noticed on it is kept with it, as of today. {words.join(' ')}</p>}
        <KeptForm action={addVehicle} submit="Add it">
          {noticed.seen.map((sign) => (
            <input key={sign} type="hidden" name="seen" value={sign} />
          ))}
          {noticed.notSeen.map((sign) => (
            <input key={sign} type="hidden" name="not" value={sign} />
          ))}
          {noticed.codes !== '' && <input type="hidden" name="codes" value={noticed.codes} />}
          <TextField
            name="unit"
            label={upperFirst(VEHICLE_NUMBER[terms.vehicleNumber])}
            hint="What it is called here; no other vehicle has it."
            value={said('unit')}
            autoComplete="off"
          />
          {terms.vehicleNumber !== 'plate' && (
            <TextField name="plate" label="Plate, if it has one" autoComplete="off" />
          )}
          <SelectField
            name="family"
            label="Engine"
            value={family?.key ?? ENGINE_NOT_KNOWN}
            options={[
              { value: ENGINE_NOT_KNOWN, label: 'not known, or not in the library' },
              ...families.map(({ key, name }) => ({ value: key, label: name })),
            ]}
          />
          <TextField
            name="odometer"
            label="The odometer says"
            unit={terms.distance}
            value={said('odometer')}
            inputMode="decimal"
            autoComplete="off"
          />
          <ChoiceField
            name="history"
            label="This is its first record. Is anything known of the time before?"
            hint="Yes means: whatever failed or was replaced before is on record, or will be."
            value="none"
            options={[
              { value: 'none', label: 'no' },
              { value: 'full', label: 'yes, all of it' },
            ]}
          />
        </KeptForm>
      </div>
    </Frame>
  )
}

const upperFirst = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
