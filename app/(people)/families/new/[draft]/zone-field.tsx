import { TextField } from '../../../../ui/kept-form'

/** Where on the engine; the places that are known already are offered. */
export function ZoneField({ zone, zones }: { zone: string | null | undefined; zones: readonly string[] }) {
  return (
    <>
      <TextField
        name="zone"
        label="Where on the engine"
        hint={
          zones.length === 0
            ? 'As you walk round it: front, top, below. May be left out.'
            : `As on the walk round it: ${zones.join(', ')}. A new place comes last on the walk. May be left out.`
        }
        list="zones"
        value={zone ?? undefined}
      />
      <datalist id="zones">
        {zones.map((each) => (
          <option key={each} value={each} />
        ))}
      </datalist>
    </>
  )
}
