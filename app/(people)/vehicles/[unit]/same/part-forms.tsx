import type { MergedVehicle } from '@/lib/store/read/merged-vehicles'
import type { Formats } from '../../../../ui/formats'
import { KeptForm } from '../../../../ui/kept-form'
import { partFrom } from './actions'

type Props = { unit: string; merged: MergedVehicle[]; formats: Formats }

/** What has been made one with a vehicle, each with the way back. */
export function PartForms({ unit, merged, formats }: Props) {
  const [latest] = merged
  return (
    <section aria-labelledby="merged">
      <h2 id="merged">Made one with {unit}</h2>
      {!latest && <p>Nothing is.</p>}
      {/* One form for all, so that it can tell what came of it when the line is gone. */}
      <KeptForm action={partFrom.bind(null, unit)} submit={latest ? `Part ${latest.other} again` : null}>
        {latest && (
          <>
            <p>
              {merged.map(({ other, mergedAt }) => `${other}, since ${formats.moment(mergedAt)}`).join('; ')}.
              {merged.length > 1 && ' They are parted one after the other, the latest first.'}
            </p>
            <input type="hidden" name="other" value={latest.other} />
            <input type="hidden" name="mergedAt" value={latest.mergedAt.toISOString()} />
          </>
        )}
      </KeptForm>
    </section>
  )
}
