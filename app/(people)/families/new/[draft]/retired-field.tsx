import { ChoiceField } from '../../../../ui/kept-form'
import { YES_NO } from '../choices'

/** A key that records name cannot go; it can be kept for them alone. */
export function RetiredField({ retired = false }: { retired?: boolean }) {
  return (
    <ChoiceField
      name="retired"
      label="Keep it for old records alone?"
      hint="What records name cannot be taken out. Kept for them alone, it is offered for no new ones, and nothing is said of it any more."
      options={YES_NO}
      value={retired ? 'yes' : 'no'}
    />
  )
}
