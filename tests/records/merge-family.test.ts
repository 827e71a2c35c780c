import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Family } from '@/lib/records/library'
import { familySchema } from '@/lib/records/library-schema'
import { mergeFamily, type Side } from '@/lib/records/merge-family'
import { exampleLibrary } from './example-library'
import { mergedTree, treeOf } from './merge-oracle'
import { anyFamily } from './small-families'

const family = exampleLibrary().families[0] as Family
const withPoint = (key: string, change: Partial<Family['weakPoints'][number]>, of = family): Family => ({
  ...of,
  weakPoints: of.weakPoints.map((point) => (point.key === key ? { ...point, ...change } : point)),
})
const without = (key: string, of = family): Family => ({
  ...of,
  weakPoints: of.weakPoints.filter((point) => point.key !== key),
  signs: of.signs.map((sign) => ({
    ...sign,
    causes: sign.causes.filter((cause) => cause.weakPoint !== key),
  })),
  upstream: of.upstream.filter(({ from, to }) => from !== key && to !== key),
})
const pointIn = (of: Family, key: string) => of.weakPoints.find((point) => point.key === key)

describe('a three-way merge of any families', () => {
  test('is theirs, to the letter, where nothing of mine changed; mine where nothing of theirs did', () => {
    fc.assert(
      fc.property(anyFamily, anyFamily, (base, other) => {
        const taken = mergeFamily({ base, mine: base, theirs: other })
        expect(taken.family).toEqual(other)
        expect(taken.changes.every(({ by, taken: side }) => by === 'theirs' && side === 'theirs')).toBe(true)
        const kept = mergeFamily({ base, mine: other, theirs: base })
        expect(kept.family).toEqual(other)
        expect(kept.changes.every(({ by }) => by === 'mine')).toBe(true)
      }),
    )
  })

  test('has nothing to decide where both say the same', () => {
    fc.assert(
      fc.property(fc.option(anyFamily), anyFamily, (base, both) => {
        const { family: merged, ...told } = mergeFamily({ base, mine: both, theirs: structuredClone(both) })
        expect(merged).toEqual(both)
        expect(told).toEqual({ changes: [], lost: [], retired: [] })
      }),
    )
  })

  test('comes out as another way of merging has it', () => {
    fc.assert(
      fc.property(fc.option(anyFamily), anyFamily, anyFamily, (base, mine, theirs) => {
        const { family: merged } = mergeFamily({ base, mine, theirs })
        // Without a base nothing of theirs is taken unasked.
        const expected = base ? mergedTree(treeOf(base), treeOf(mine), treeOf(theirs)) : treeOf(mine)
        expect(treeOf(merged)).toEqual(expected)
      }),
      { numRuns: 400 },
    )
  })

  test('is the same from either side, where conflicts are decided alike', () => {
    const swapped: Record<Side, Side> = { mine: 'theirs', theirs: 'mine' }
    fc.assert(
      fc.property(
        fc.option(anyFamily),
        anyFamily,
        anyFamily,
        fc.infiniteStream(fc.boolean()),
        (base, a, b, coins) => {
          const { changes } = mergeFamily({ base, mine: a, theirs: b })
          const conflicts = changes.filter(({ by }) => by === 'both')
          const choices = Object.fromEntries(
            conflicts.map(({ id }) => [id, coins.next().value ? ('mine' as const) : ('theirs' as const)]),
          )
          const turned = Object.fromEntries(Object.entries(choices).map(([id, side]) => [id, swapped[side]]))
          const one = mergeFamily({ base, mine: a, theirs: b, choices })
          const other = mergeFamily({ base, mine: b, theirs: a, choices: turned })
          expect(treeOf(other.family)).toEqual(treeOf(one.family))
          expect(
            new Set(other.changes.map(({ id, by }) => `${id} ${by === 'both' ? by : swapped[by]}`)),
          ).toEqual(new Set(one.changes.map(({ id, by }) => `${id} ${by}`)))
        },
      ),
    )
  })

  test('has all of mine or all of theirs where everything is decided for one', () => {
    fc.assert(
      fc.property(fc.option(anyFamily), anyFamily, anyFamily, (base, mine, theirs) => {
        const { changes } = mergeFamily({ base, mine, theirs })
        for (const [side, whole] of [['mine', mine] as const, ['theirs', theirs] as const]) {
          const choices = Object.fromEntries(changes.map(({ id }) => [id, side]))
          expect(treeOf(mergeFamily({ base, mine, theirs, choices }).family)).toEqual(treeOf(whole))
        }
      }),
    )
  })

  test('is a family by the schema, with every reference to something that is there', () => {
    fc.assert(
      fc.property(fc.option(anyFamily), anyFamily, anyFamily, (base, mine, theirs) => {
        const { family: merged } = mergeFamily({ base, mine, theirs })
        const points = merged.weakPoints.map(({ key }) => key)
        for (const sign of merged.signs)
          for (const { weakPoint } of sign.causes) expect(points).toContain(weakPoint)
        for (const { from, to } of merged.upstream) expect(points).toEqual(expect.arrayContaining([from, to]))
        const { signs, ...rest } = merged
        const written = { ...rest, signs: signs.map(({ positioned: _, ...sign }) => sign) }
        expect(familySchema.safeParse(written).success).toBe(true)
      }),
    )
  })
})

test.each(
  [0, 1, 2].flatMap((base) => [0, 1, 2].flatMap((mine) => [0, 1, 2].map((theirs) => [base, mine, theirs]))),
)('a field that was %i, is %i here and %i there', (b, m, t) => {
  const costing = (parts: number) => withPoint('injector', { cost: { ...family.weakPoints[0]!.cost, parts } })
  const merged = mergeFamily({ base: costing(b!), mine: costing(m!), theirs: costing(t!) })
  const conflict = b !== m && b !== t && m !== t
  expect(pointIn(merged.family, 'injector')?.cost.parts).toBe(b === m ? t : m)
  expect(merged.changes.map(({ by }) => by)).toEqual(
    m === t ? [] : conflict ? ['both'] : [b === m ? 'theirs' : 'mine'],
  )
})

describe('what one engine shows of it', () => {
  test('a conflict stands as mine until it is decided, and tells both', () => {
    const mine = withPoint('injector', { warning: 5000, grounds: 'our shop' })
    const theirs = withPoint('injector', { warning: 9000, part: 'INJ-23' })
    const merged = mergeFamily({ base: family, mine, theirs })
    expect(pointIn(merged.family, 'injector')).toMatchObject({
      warning: 5000,
      grounds: 'our shop',
      part: 'INJ-23',
    })
    const conflict = merged.changes.find(({ by }) => by === 'both')!
    expect(conflict).toMatchObject({
      fields: [{ field: 'warning', mine: 5000, theirs: 9000 }],
      taken: 'mine',
    })
    const decided = mergeFamily({ base: family, mine, theirs, choices: { [conflict.id]: 'theirs' } })
    expect(pointIn(decided.family, 'injector')).toMatchObject({ warning: 9000, grounds: 'our shop' })
  })

  test('ages and how sure they are go together, and all that a clock counts where the clock differs', () => {
    const mine = withPoint('injector', { onset: { p10: 10_000, p50: 300_000 } })
    const theirs = withPoint('injector', { onset: { p10: 170_000, p50: 210_000 }, confidence: 'documented' })
    const { changes } = mergeFamily({ base: family, mine, theirs })
    expect(changes.map(({ fields }) => fields.map(({ field }) => field))).toEqual([
      ['onset.p10', 'onset.p50', 'confidence'],
    ])
    const hours = withPoint('injector', { clock: 'hours', onset: { p10: 2000, p50: 4000 }, warning: 200 })
    const apart = mergeFamily({ base: family, mine: withPoint('injector', { warning: 9000 }), theirs: hours })
    expect(apart.changes).toMatchObject([{ by: 'both', clocks: { mine: 'distance', theirs: 'hours' } }])
    expect(apart.changes[0]?.fields.map(({ field }) => field)).toContain('warning')
    expect(pointIn(apart.family, 'injector')).toMatchObject({ clock: 'distance', warning: 9000 })
  })

  test('what theirs drops goes where I left it alone, and is asked about where I changed it', () => {
    const theirs = without('cover-seep')
    expect(pointIn(mergeFamily({ base: family, mine: family, theirs }).family, 'cover-seep')).toBeUndefined()
    const mine = withPoint('cover-seep', { warning: 1 })
    const merged = mergeFamily({ base: family, mine, theirs })
    expect(pointIn(merged.family, 'cover-seep')?.warning).toBe(1)
    const asked = merged.changes.filter(({ by }) => by === 'both')
    expect(asked).toMatchObject([{ kind: 'weakPoint', stands: 'mine', taken: 'mine' }])
  })

  test('what records name stays retired, with its versions, and a sign leaves its codes', () => {
    const dropped = without('injector')
    const misfires = { ...family.signs[0]!, key: 'misfires', causes: [] }
    const theirs = { ...dropped, signs: [misfires, ...dropped.signs.filter(({ key }) => key !== 'misfire')] }
    const merged = mergeFamily({
      ...{ base: family, mine: family, theirs },
      inUse: [
        { kind: 'revision', of: 'injector', key: 'mk2' },
        { kind: 'weakPoint', of: null, key: 'injector' },
        { kind: 'sign', of: null, key: 'misfire' },
        { kind: 'sign', of: null, key: 'oil-seep' },
      ],
    })
    expect(pointIn(merged.family, 'injector')).toEqual({ ...family.weakPoints[0], retired: true })
    expect(merged.family.signs.find(({ key }) => key === 'misfire')).toMatchObject({
      codes: [],
      retired: true,
    })
    expect(merged.family.signs.find(({ key }) => key === 'misfires')?.codes).toEqual(['P030#'])
    expect(merged.retired.map(({ kind }) => kind)).toEqual(['weakPoint', 'sign'])
  })

  test('what I added to something that theirs drops is left out with it, and told', () => {
    const mine = {
      ...family,
      signs: family.signs.map((sign) => ({
        ...sign,
        causes: [
          ...sign.causes.filter(({ weakPoint }) => weakPoint !== 'pump-gasket'),
          { weakPoint: 'pump-gasket', detect: 0.4 },
        ],
      })),
    }
    const merged = mergeFamily({ base: family, mine, theirs: without('pump-gasket') })
    expect(
      merged.family.signs.flatMap(({ causes }) => causes.map(({ weakPoint }) => weakPoint)),
    ).not.toContain('pump-gasket')
    expect(merged.lost.map(({ kind }) => kind)).toEqual(['cause', 'cause'])
  })

  test('another key of theirs is mine', () => {
    const { family: merged, changes } = mergeFamily({
      base: null,
      mine: family,
      theirs: { ...family, key: 'p-2' },
    })
    expect([merged, changes]).toEqual([family, []])
  })
})
