import type { MergeChange, Side } from '@/lib/records/merge-family'
import type { Formats } from '../../../ui/formats'
import { MERGE_SIDES } from '../../../ui/library-words'
import { fieldSides, thingWords } from '../difference-words'

/** A change of a merge in words: what it is about, and what each side says. */
export type ChangeWords = { about: string } & Record<Side, string>

export function changeWords(change: MergeChange, formats: Formats): ChangeWords {
  if (change.stands !== 'both') {
    const here = change.stands === 'mine' ? 'keep it' : 'take it in'
    const say = (side: Side) => `${MERGE_SIDES[side]}: ${side === change.stands ? here : 'leave it out'}`
    return { about: thingWords(change), mine: say('mine'), theirs: say('theirs') }
  }
  const clocks = { before: change.clocks.mine, after: change.clocks.theirs }
  const fields = change.fields.map(({ field, mine, theirs }) =>
    fieldSides({ field, before: mine, after: theirs }, clocks, formats),
  )
  const [only] = fields
  if (fields.length === 1 && only)
    return {
      about: `${thingWords(change)}, ${only.label}`,
      mine: `${MERGE_SIDES.mine}: ${only.before}`,
      theirs: `${MERGE_SIDES.theirs}: ${only.after}`,
    }
  const all = (side: 'before' | 'after') => fields.map((field) => `${field.label}: ${field[side]}`).join('; ')
  return {
    about: thingWords(change),
    mine: `${MERGE_SIDES.mine}: ${all('before')}`,
    theirs: `${MERGE_SIDES.theirs}: ${all('after')}`,
  }
}
