import { describe, expect, it } from 'vitest'
import { fromStatement } from '@/lib/model/elicitation'
import type { LifeTables } from '@/lib/model/life-table'
import { compileEngine } from '@/lib/scoring/engine-plan'
import { lifeWays } from '@/lib/scoring/life-ways'
import { statedParameters } from '@/lib/scoring/parameters'
import { engine, followOne, point, sign } from './one-vehicle'

const [family] = engine(
  [
    point('pump', 90_000, 150_000, 6_000, {
      variants: { early: { lifeFactor: 0.5, confidence: 'hunch' }, late: { absent: true } },
      revisions: [
        { key: 'mk2', lifeFactor: 2, confidence: 'documented' },
        { key: 'clip', lifeFactor: 0.1, temporary: true },
      ],
    }),
    point('coil', 80_000, 140_000, 0, { positions: 4, confidence: 'documented' }),
    point('deposits', 60_000, 110_000, 20_000),
    point('gone', 60_000, 110_000, 20_000, { retired: true }),
  ],
  [
    sign('misfire', 'code', { coil: 0.7, deposits: 0.2 }, { codes: ['P030#'], lamp: true }),
    sign('soot', 'visual', { deposits: 0.4, gone: 0.5 }),
    sign('old', 'visual', { gone: 0.5 }, { retired: true }),
    sign('drip', 'visual', { pump: 0.4 }, { positions: 2 }),
  ],
  { variants: [{ key: 'early' }, { key: 'late' }, { key: 'plain' }] },
).families
const [pump, coil] = family!.weakPoints
const stated = fromStatement({ p10: 90_000, p50: 150_000, warning: 6_000 })
const parameters = statedParameters(family!)

/** Weighted mean and standard deviation of log η over the nodes, relative to the statement. */
function logScale({ logScale: values, weight }: LifeTables) {
  const mean = values.reduce((a, v, k) => a + weight[k]! * (v - Math.log(stated.scale)), 0)
  const square = values.reduce((a, v, k) => a + weight[k]! * (v - Math.log(stated.scale) - mean) ** 2, 0)
  return { mean, sd: Math.sqrt(square) }
}

describe('the parameters of a life', () => {
  it('lie about the statement, as widely as its grade says, with weights that sum to 1', () => {
    const { nodes, central } = parameters.of(pump!, null, 'plain')
    expect(logScale(nodes).mean).toBeCloseTo(0, 6)
    expect(logScale(nodes).sd).toBeCloseTo(0.3, 6)
    expect(nodes.weight.reduce((a, w) => a + w, 0)).toBeCloseTo(1, 12)
    expect(central.count).toBe(1)
    expect(nodes.count).toBe(5 * 3 * 3)
  })

  it('have fewer nodes for a documented part without warning', () => {
    expect(parameters.of(coil!, null, 'plain').nodes.count).toBe(3 * 3)
  })

  it('of a revision and of a variant are moved by their factors, and spread by both', () => {
    const mk2 = logScale(parameters.of(pump!, 'mk2', 'plain').nodes)
    expect(mk2.mean).toBeCloseTo(Math.log(2), 6)
    expect(mk2.sd).toBeCloseTo(Math.hypot(0.3, 0.12), 6)
    const early = logScale(parameters.of(pump!, null, 'early').nodes)
    expect(early.mean).toBeCloseTo(Math.log(0.5), 6)
    expect(early.sd).toBeCloseTo(Math.hypot(0.3, 0.6), 6)
    const both = logScale(parameters.of(pump!, 'mk2', 'early').nodes)
    expect(both.mean).toBeCloseTo(0, 6)
  })

  it('of an unknown revision are a mixture of the original and what lasts, quick fixes left out', () => {
    const { central } = parameters.of(pump!, '?', 'plain')
    const factors = Array.from(central.logScale, (v) => Math.exp(v) / stated.scale).sort((a, b) => a - b)
    expect(factors).toHaveLength(2)
    expect(factors[0]).toBeCloseTo(1, 9)
    expect(factors[1]).toBeCloseTo(2, 9)
    expect(Array.from(central.weight)).toEqual([0.5, 0.5])
  })

  it('of an unknown variant are the average over the variants, one that lacks the part included', () => {
    const { central } = parameters.of(pump!, null, null)
    const byFactor = new Map(
      Array.from(central.logScale, (v, k) => [Math.exp(v) / stated.scale, central.weight[k]!] as const),
    )
    expect([...byFactor.keys()].sort((a, b) => a - b).map((f) => Number(f.toFixed(9)))).toEqual([
      0.5,
      1,
      Number.POSITIVE_INFINITY,
    ])
    for (const weight of byFactor.values()) expect(weight).toBeCloseTo(1 / 3, 9)
  })

  it('are one node each where only the central values are asked for', () => {
    const { nodes } = statedParameters(family!, 'central').of(pump!, 'mk2', 'early')
    expect(nodes.count).toBe(1)
    expect(nodes.logScale[0]).toBeCloseTo(Math.log(stated.scale), 9)
  })

  it('of the original part with the variant are what long-run costs are made from', () => {
    expect(parameters.original(pump!, 'early').scale).toBeCloseTo(0.5 * stated.scale, 6)
    expect(parameters.original(pump!, 'plain')).toMatchObject({ shape: stated.shape, pfMean: stated.pfMean })
  })
})

describe('an engine compiled for a vehicle', () => {
  const keys = (variant: string | null) => [
    ...new Set(compileEngine(family!, variant, false).components.map((c) => c.weakPoint.key)),
  ]
  const plan = compileEngine(family!, 'plain', false)

  it('has no part that its variant lacks, nor one that the library has retired', () => {
    expect(keys('late')).toEqual(['coil', 'deposits'])
    expect(keys('plain')).toEqual(['pump', 'coil', 'deposits'])
    expect(keys(null)).toEqual(['pump', 'coil', 'deposits'])
    expect(plan.sighting('old', null)).toBeNull()
    expect(plan.signs[plan.sighting('soot', null)!]!.causes).toHaveLength(1)
  })

  it.each([
    { versions: [], lacking: [] },
    { versions: ['late'], lacking: ['late'] },
    { versions: ['late'], lacking: [] },
    { versions: ['early', 'late'], lacking: ['late'] },
    { versions: ['early', 'late'], lacking: ['early', 'late'] },
  ])('has a part just where some way of its life has it: $lacking of $versions lack it', (stated) => {
    const { versions, lacking } = stated
    const named = engine(
      [
        point('pump', 80_000, 140_000, 9_000, {
          variants: Object.fromEntries(lacking.map((key) => [key, { absent: true }])),
        }),
      ],
      [],
      { variants: versions.map((key) => ({ key })) },
    ).families[0]!
    for (const variant of [null, ...versions]) {
      const present = lifeWays(named, named.weakPoints[0]!, null, variant).some((way) => !way.absent)
      expect([variant, compileEngine(named, variant, false).components.length > 0]).toEqual([
        variant,
        present,
      ])
    }
  })

  it('has half the chance of the plain one where the only version named lacks the part and a blank may be either', () => {
    const lateLacks = { variants: { late: { absent: true } } }
    const parts = [point('pump', 80_000, 140_000, 9_000, lateLacks)]
    const named = engine(parts, [], { variants: [{ key: 'late' }] })
    const plain = engine([point('pump', 80_000, 140_000, 9_000)])
    const developing = (library: typeof named) => followOne(library, 12_000, []).developing('pump')
    // So early that hardly any has failed: then a vehicle without news is as likely to lack the part as at first.
    expect(developing(named) / developing(plain)).toBeCloseTo(0.5, 2)
  })

  it('links a sign to the parts at its position, and to all where their counts differ', () => {
    const at2 = plan.signs[plan.sighting('misfire', 2)!]!.causes.map((c) => plan.components[c.component]!)
    expect(at2.map((c) => `${c.weakPoint.key} ${c.position}`)).toEqual(['coil 2', 'deposits 1'])
    for (const position of [1, 2]) {
      const causes = plan.signs[plan.sighting('drip', position)!]!.causes
      expect(causes.map((c) => plan.components[c.component]!.weakPoint.key)).toEqual(['pump'])
    }
  })

  it('keeps parts apart that share no sign, directly or through others', () => {
    const groupOf = (key: string) => plan.groupOf[plan.components.findIndex((c) => c.weakPoint.key === key)]
    expect(groupOf('coil')).toBe(groupOf('deposits'))
    expect(groupOf('pump')).not.toBe(groupOf('coil'))
    expect(plan.groups.flat().sort()).toEqual(plan.components.map((_, c) => c).sort())
  })

  it('has a union as one sign with the members’ silences multiplied', () => {
    const union = plan.signs[plan.sighting('misfire', null)!]!
    expect(union.leak).toBeCloseTo(1 - (1 - 0.005) ** 4, 12)
    const deposits = plan.components.findIndex((c) => c.weakPoint.key === 'deposits')
    expect(union.causes.find((c) => c.component === deposits)?.detect).toBeCloseTo(1 - 0.8 ** 4, 12)
  })
})
