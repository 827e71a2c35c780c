import { describe, expect, test } from 'vitest'
import type { Library } from '@/lib/records/library'
import { familyDifferences, libraryDifferences } from '@/lib/records/library-differences'
import { exampleLibrary } from './example-library'

const library = exampleLibrary()
const [family] = library.families as [Library['families'][number]]
const changedFamily = (change: Partial<Library['families'][number]>) =>
  familyDifferences(family, { ...family, ...change })

describe('what two libraries say differently', () => {
  test('is nothing where they say the same, and every family where there was none', () => {
    expect(libraryDifferences(library, structuredClone(library))).toEqual([])
    const all = libraryDifferences(null, library)
    expect(all.filter(({ kind }) => kind === 'family').map(({ change }) => change)).toEqual(
      library.families.map(() => 'added'),
    )
    expect(all.some(({ kind }) => kind === 'weakPoint')).toBe(false)
  })

  test('names each field of a weak point with what it was and what it is', () => {
    const [first, ...others] = family.weakPoints
    const changed = { ...first!, onset: { ...first!.onset, p50: 200_000 }, cautions: ['Hot.'] }
    expect(changedFamily({ weakPoints: [changed, ...others] })).toEqual([
      {
        kind: 'weakPoint',
        name: `${family.name}: ${first!.component}`,
        clock: first!.clock,
        change: 'changed',
        fields: [
          { field: 'onset.p50', before: first!.onset.p50, after: 200_000 },
          { field: 'cautions', before: first!.cautions, after: ['Hot.'] },
        ],
      },
    ])
  })

  test('tells what came and went, once, not with everything in it', () => {
    const [first, ...others] = family.weakPoints
    expect(first!.revisions.length).toBeGreaterThan(0)
    const without = { weakPoints: others, signs: [], upstream: [] }
    const differences = changedFamily(without)
    expect(differences.filter(({ kind }) => kind === 'weakPoint')).toMatchObject([{ change: 'gone' }])
    expect(differences.filter(({ kind }) => kind === 'revision' || kind === 'cause')).toEqual([])
    expect(familyDifferences({ ...family, ...without }, family).map(({ change }) => change)).toEqual(
      differences.map(() => 'added'),
    )
  })

  test('tells versions, their effects, causes and links one by one', () => {
    const [first, ...others] = family.weakPoints
    const [revision, ...revisions] = first!.revisions
    const [sign, ...signs] = family.signs
    const [cause, ...causes] = sign!.causes
    const differences = changedFamily({
      weakPoints: [
        { ...first!, revisions: [{ ...revision!, lifeFactor: 9 }, ...revisions], variants: {} },
        ...others,
      ],
      signs: [{ ...sign!, causes: [{ ...cause!, detect: 0.99 }, ...causes] }, ...signs],
      upstream: [],
    })
    const told = (kind: string) => differences.filter((difference) => difference.kind === kind)
    expect(told('revision')).toMatchObject([
      { fields: [{ field: 'lifeFactor', before: revision!.lifeFactor, after: 9 }] },
    ])
    expect(told('cause')).toMatchObject([
      { fields: [{ field: 'detect', before: cause!.detect, after: 0.99 }] },
    ])
    expect(told('effect').map(({ change }) => change)).toEqual(Object.keys(first!.variants).map(() => 'gone'))
    expect(told('link').map(({ change }) => change)).toEqual(family.upstream.map(() => 'gone'))
  })

  test('tells the library’s own prices and walk', () => {
    expect(libraryDifferences(library, { ...library, labourRate: 1, zones: ['top'] })).toMatchObject([
      {
        kind: 'library',
        fields: [
          { field: 'labourRate', after: 1 },
          { field: 'zones', after: ['top'] },
        ],
      },
    ])
  })

  test('misses no field of the schema', () => {
    const leaves = (value: unknown, ignored: string[], path = ''): string[] =>
      value !== null && typeof value === 'object' && !Array.isArray(value)
        ? Object.entries(value)
            .filter(([key]) => !ignored.includes(key))
            .flatMap(([key, inner]) => leaves(inner, ignored, path ? `${path}.${key}` : key))
        : [path]
    const [point] = family.weakPoints
    const other = (value: unknown): unknown =>
      Array.isArray(value)
        ? ['another']
        : value !== null && typeof value === 'object'
          ? Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, other(inner)]))
          : 'another'
    const kept = { key: point!.key, revisions: point!.revisions, variants: point!.variants }
    const next = { ...(other(point) as typeof point), ...kept } as NonNullable<typeof point>
    const [difference] = familyDifferences(
      { ...family, weakPoints: [point!], signs: [], upstream: [] },
      { ...family, weakPoints: [next], signs: [], upstream: [] },
    )
    const told = difference?.change === 'changed' ? difference.fields.map(({ field }) => field) : []
    expect([...told].sort()).toEqual(leaves(point, ['key', 'revisions', 'variants']).sort())
  })
})
