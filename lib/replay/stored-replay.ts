/** A replay that was kept as JSON, or a comparison of two, read back. */
import { z } from 'zod'
import type { Comparison } from './compare-forecasts'
import { FORECASTERS, type Forecaster, RIVALS, type Rival } from './judge'
import type { Replay } from './replay'

const number = z.number()
const interval = z.object({ low: number, high: number })
const tally = z.object({
  components: number,
  expected: number,
  observed: number,
  imputed: number,
  unnoted: number,
  interval,
  ratio: number.nullable(),
})
const bin = z.object({
  from: number,
  to: number,
  count: number,
  meanForecast: number.nullable(),
  observedRate: number.nullable(),
  interval,
})
const brier = z.object({
  score: number,
  reliability: number,
  resolution: number,
  uncertainty: number,
  withinBinVariance: number,
  withinBinCovariance: number,
})
const calibration = z.discriminatedUnion('ok', [
  z.object({
    ok: z.literal(true),
    slope: number,
    slopeSe: number,
    intercept: number,
    inLarge: number,
    inLargeSe: number,
  }),
  z.object({ ok: z.literal(false), reason: z.enum(['one-outcome', 'no-convergence']) }),
])
const netBenefit = z.object({
  threshold: number,
  truePositives: number,
  falsePositives: number,
  netBenefit: number,
  netBenefitAll: number,
})
const judgement = tally.extend({
  brier: brier.nullable(),
  bins: z.array(bin),
  calibration,
  concordance: number.nullable(),
  netBenefit: z.array(netBenefit),
})
const money = z.object({
  jobs: number,
  visits: number,
  planned: number,
  prevented: number,
  unplanned: number,
  spent: number,
})
const gain = z.object({ first: number, second: number, mean: number, interval })
const gains = z.object({ logLoss: gain, brier: gain })

const FORECASTER = z.enum<readonly Forecaster[]>(FORECASTERS)
const RIVAL = z.enum<readonly Rival[]>(RIVALS)
const verdicts = z.object({
  judgements: z.record(FORECASTER, judgement),
  money: z.record(FORECASTER, money),
})

const schema: z.ZodType<Replay> = z.object({
  from: z.string(),
  to: z.string(),
  every: number,
  days: number,
  learned: z.boolean(),
  cutOffs: z.array(verdicts.extend({ asOf: z.string() })),
  overall: verdicts.extend({
    weakPoints: z.array(tally.extend({ family: z.string(), weakPoint: z.string() })),
    gains: z.record(RIVAL, gains),
  }),
})

/** @returns null for one of another make: an earlier product kept it, and it has to be made anew */
export const parseReplay = (content: string): Replay | null => readBack(schema, content)

const comparisonSchema: z.ZodType<Comparison> = gains.extend({
  forecasts: number,
  vehicles: number,
  onlyFirst: number,
  onlySecond: number,
  failures: number,
})

/** @returns null for one of another make, likewise */
export const parseComparison = (content: string): Comparison | null => readBack(comparisonSchema, content)

function readBack<Kept>(kept: z.ZodType<Kept>, content: string): Kept | null {
  const parsed = kept.safeParse(JSON.parse(content))
  return parsed.success ? parsed.data : null
}
