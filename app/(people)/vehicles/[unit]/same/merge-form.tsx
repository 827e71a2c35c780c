import { differingFacts } from '@/lib/records/merge-facts'
import type { VehicleRow } from '@/lib/records/rows'
import type { Formats } from '../../../../ui/formats'
import { ChoiceField, KeptForm } from '../../../../ui/kept-form'
import { mergeWith } from './actions'
import { FACT_NAMES, factWords } from './fact-words'

type Props = {
  own: VehicleRow
  /** Null where there is no such vehicle, or not any more. */
  other: VehicleRow | null
  asked: string
  engines: ReadonlyMap<string, string>
  formats: Formats
}

/** What both say, side by side where it differs; it stays to tell what was done once the other is gone. */
export function MergeForm({ own, other, asked, engines, formats }: Props) {
  const differing = other === null ? [] : differingFacts(own, other)
  return (
    <KeptForm
      action={mergeWith.bind(null, own.unit, asked)}
      submit={other === null ? null : `Make them one: ${own.unit}`}
    >
      {other !== null && (
        <p>
          {differing.length === 0
            ? 'They say the same of themselves.'
            : 'They say different things of themselves. Choose what is to stand.'}{' '}
          All records of {other.unit} move to {own.unit}, and {other.unit} is gone from every list. Below they
          can be parted again. Files that still name {other.unit} would bring it up anew: use {own.unit} there
          from now on.
        </p>
      )}
      {other !== null &&
        differing.map(({ group, better }) => (
          <ChoiceField
            key={group}
            name={group}
            label={FACT_NAMES[group]}
            value={better}
            options={(['own', 'other'] as const).map((side) => {
              const row = side === 'own' ? own : other
              return { value: side, label: `${row.unit}: ${factWords(group, row, engines, formats)}` }
            })}
          />
        ))}
    </KeptForm>
  )
}
