import type { Field, Thing } from './library-things'
import type { Choices, Decided, MergeChange, Side, Versions } from './merge-change'

/** Fields that make one statement: they are taken together or not at all. */
const TOGETHER: readonly (readonly Field[])[] = [
  ['onset.p10', 'onset.p50', 'confidence'],
  ['absent', 'lifeFactor', 'confidence'],
  ['codes', 'positions'],
  ['statedBy', 'statedOn'],
]

/** What is counted by a weak point's clock: where the clock differs, these figures mean nothing without it. */
const BY_CLOCK: readonly Field[] = ['clock', 'onset.p10', 'onset.p50', 'confidence', 'warning', 'renewEvery']

/** What becomes of something that is on both sides, field by field. */
export function decideFields(id: string, versions: Versions, choices: Choices): Decided {
  const [base, mine, theirs] = [versions.base?.get(id), versions.mine.get(id)!, versions.theirs.get(id)!]
  const clocks = new Set([mine.clock, theirs.clock, ...(base ? [base.clock] : [])])
  const changes = groupsOf(mine, clocks.size > 1).flatMap((group): MergeChange[] => {
    const [own, other] = [said(mine, group), said(theirs, group)]
    if (own === other) return []
    const before = base && said(base, group)
    const by = before === own ? 'theirs' : before === other ? 'mine' : 'both'
    const changeId = `${id} ${group[0]}`
    const fields = group.flatMap((field) => {
      const sides = { field, mine: heldIn(mine, field), theirs: heldIn(theirs, field) }
      return JSON.stringify(sides.mine) === JSON.stringify(sides.theirs) ? [] : [sides]
    })
    return [
      {
        ...{ id: changeId, kind: mine.kind, name: mine.name, by, fields, stands: 'both' },
        taken: choices[changeId] ?? (by === 'theirs' ? 'theirs' : 'mine'),
        clocks: { mine: mine.clock, theirs: theirs.clock },
      },
    ]
  })
  const theirFields = new Set(
    changes
      .filter(({ taken }) => taken === 'theirs')
      .flatMap(({ fields }) => fields.map((each) => each.field)),
  )
  const side = (field: Field): Side => (theirFields.has(field) ? 'theirs' : 'mine')
  const from = { mine, theirs }
  const fields = mine.fields.map(([field]) => [field, heldIn(from[side(field)], field)] as const)
  return { thing: { ...mine, fields }, changes }
}

/** The fields of a thing, those together that make one statement. */
function groupsOf({ fields }: Thing, otherClock: boolean): Field[][] {
  const own = fields.map(([field]) => field)
  const together = (otherClock ? [BY_CLOCK, ...TOGETHER] : TOGETHER)
    .map((group) => group.filter((field) => own.includes(field)))
    .filter(({ length }) => length > 1)
  const grouped: Field[][] = []
  for (const field of own) {
    if (grouped.some((group) => group.includes(field))) continue
    grouped.push(together.find((group) => group.includes(field)) ?? [field])
  }
  return grouped
}

const heldIn = ({ fields }: Thing, field: Field) => fields.find(([each]) => each === field)?.[1] ?? null

const said = (thing: Thing, group: readonly Field[]) =>
  JSON.stringify(group.map((field) => heldIn(thing, field)))
