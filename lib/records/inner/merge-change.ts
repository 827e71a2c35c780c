import type { Field, Stated, Thing } from './library-things'

export type Side = 'mine' | 'theirs'

/** Who changed something since they were last the same; `both` is a conflict. */
export type ChangedBy = Side | 'both'

/** Something that the two sides state otherwise. */
export type MergeChange = Pick<Thing, 'kind' | 'name'> & {
  /** Names it among the changes, and stays the same as long as the keys do. */
  id: string
  by: ChangedBy
  /** Which side the merged family has. */
  taken: Side
  /** What the ages of each side are counted in. */
  clocks: Record<Side, Thing['clock']>
} & (
    | { stands: 'both'; fields: MergedField[] } /** On one side only, with all that lies within it. */
    | {
        stands: Side
        fields: []
      }
  )

export type MergedField = Record<Side, Stated> & { field: Field }

/** What is decided otherwise than by whoever changed it, by the id of the change. */
export type Choices = Readonly<Record<string, Side>>

/** Three versions of a family, each as its things. */
export type Versions = Record<Side, ReadonlyMap<string, Thing>> & { base: ReadonlyMap<string, Thing> | null }

export type Decided = { thing: Thing | null; changes: MergeChange[] }
