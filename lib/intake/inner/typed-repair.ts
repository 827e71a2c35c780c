import type { Family } from '@/lib/records/library'
import { OTHER_WEAK_POINT } from '@/lib/records/rows'
import { type GivenObjects, type Occasion, ON_EACH } from '../form-ground'
import type { TypedFields } from './typed-fields'

/**
 * Work on a weak point. What was found holds for the position that it was found on; the others were worked on
 * together with it, and are on record as not examined.
 */
export function typedRepair(
  fields: TypedFields,
  { on, ...place }: Occasion,
  family: Family | null,
): GivenObjects {
  const weakPoint = fields.text('weak_point')
  const point = family?.weakPoints.find(({ key }) => key === weakPoint)
  const positions = fields.under('position').map(([position]) => Number(position))
  if (weakPoint === '') fields.slip('weak_point', 'Say what was worked on')
  const several = (point?.positions ?? 1) > 1
  if (several && positions.length === 0) fields.slip('position', 'Say which of them')
  const [found, which] = [fields.text('found'), fields.text('which')]
  if (positions.length > 1 && found !== '' && which === '')
    fields.slip('which', 'Say on which one that was found; the others count as not examined')
  if (which !== '' && which !== ON_EACH && !positions.includes(Number(which)))
    fields.slip('which', 'That one is not among those that were worked on: tick it above')
  const spent = {
    parts_cost: fields.number('parts_cost') ?? '',
    labour_hours: fields.number('labour_hours') ?? '',
  }
  const work = {
    ...place,
    done_on: on,
    weak_point: weakPoint,
    action: fields.text('action') || (weakPoint === OTHER_WEAK_POINT ? 'inspect' : ''),
    revision: fields.text('revision'),
    note: fields.text('note'),
  }
  const because = fields.text('because')
  const at = (list: number[]) => (several ? list.join(' ') : '')
  const examined = Number(which)
  if (positions.length < 2 || !positions.includes(examined))
    return { repairs: [{ ...work, ...spent, positions: at(positions), found, because }] }
  return {
    repairs: [
      { ...work, ...spent, positions: at([examined]), found, because },
      { ...work, positions: at(positions.filter((each) => each !== examined)), because: 'together' },
    ],
  }
}
