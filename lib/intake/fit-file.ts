/**
 * `fit.json`: what was learned, written down so that scores can be made from it again, to the last digit. Ages are in
 * each weak point's clock unit.
 */
import crypto from 'node:crypto'
import { z } from 'zod'
import type { Library, WeakPoint } from '@/lib/records/library'
import { type ParsedJson, parseJson } from '@/lib/records/parse-json'
import type { FamilyFit, FleetFit, LearnedLife } from '@/lib/scoring/family-fit'
import { lifeFactors } from '@/lib/scoring/life-ways'
import { formatDay, parseDay } from '@/lib/units/dates'

const finite = z.number()
const positive = finite.positive()
const count = z.int().nonnegative()
const factors = z.record(z.string(), z.strictObject({ factor: positive, seLog: finite.nonnegative() }))

const share = finite.min(0).max(1)
const observed = z.strictObject({
  ends: z.strictObject({
    failed: count,
    developing: count,
    sound: count,
    renewed: count,
    running: count,
    unknownStart: count,
    beforeWatch: count,
  }),
  steps: z
    .strictObject({
      from: finite,
      until: finite,
      lives: count,
      gone: count,
      shares: z.array(z.tuple([finite, share, finite.nonnegative()])),
    })
    .nullable(),
  byFactor: z.array(
    z.strictObject({ of: z.enum(['revision', 'variant']), key: z.string(), lives: count, gone: count }),
  ),
})

const learnedLife = z.strictObject({
  shape: positive,
  scale: positive,
  pfMean: finite.nonnegative(),
  noticeRate: finite.nonnegative(),
  se: z.strictObject({ logShape: finite, logScale: finite, logPfMean: finite }),
  logLikelihood: finite,
  lives: z.strictObject({ failed: count, developing: count, sound: count, running: count, leftOut: count }),
  revisions: factors,
  variants: factors,
  covariance: z.array(z.array(finite)),
  nodes: z.array(z.tuple([positive, positive, finite.nonnegative(), finite.nonnegative()])),
  /** False where no peak was found: then this is the library's statement. */
  converged: z.boolean().default(true),
  contradictory: count.default(0),
  withoutWarning: count.default(0),
  observed: observed.optional(),
})

/** `detect` by weak point. */
const signRates = z.strictObject({ leak: share, detect: z.record(z.string(), share) })

const fitSchema = z.strictObject({
  asOf: z.string().transform((text, context) => {
    const day = parseDay(text)
    if (day !== null) return day
    context.issues.push({ code: 'custom', message: 'expected a date like 2026-06-30', input: text })
    return z.NEVER
  }),
  library: z.string(),
  /** Fits of earlier versions have none. */
  signs: z.record(z.string(), z.record(z.string(), signRates)).default({}),
  families: z.record(z.string(), z.strictObject({ weakPoints: z.record(z.string(), learnedLife) })),
})

type WrittenLife = z.input<typeof learnedLife>

/** What tells one library's content from another's, in hexadecimal. */
export const libraryHash = (library: Library): string =>
  crypto.createHash('sha256').update(JSON.stringify(library)).digest('hex')

/** The text of `fit.json`. */
export function fitText(fit: FleetFit, library: Library): string {
  const families = library.families.map((family) => {
    const learned = fit.families.get(family.key)!.weakPoints
    const weakPoints = family.weakPoints.map((point) => [point.key, written(point, learned.get(point.key)!)])
    return [family.key, { weakPoints: Object.fromEntries(weakPoints) }]
  })
  const content = {
    asOf: formatDay(fit.asOf),
    library: libraryHash(library),
    signs: Object.fromEntries(library.families.map(({ key }) => [key, writtenRates(fit.families.get(key)!)])),
    families: Object.fromEntries(families),
  }
  return `${JSON.stringify(content, null, 1)}\n`
}

const writtenRates = ({ signs }: FamilyFit) =>
  Object.fromEntries(
    Array.from(signs, ([sign, { leak, detect }]) => [sign, { leak, detect: Object.fromEntries(detect) }]),
  )

const readRates = (signs: Record<string, z.output<typeof signRates>> = {}): FamilyFit['signs'] =>
  new Map(
    Object.entries(signs).map(([sign, { leak, detect }]) => [
      sign,
      { leak, detect: new Map(Object.entries(detect)) },
    ]),
  )

function written(weakPoint: WeakPoint, life: LearnedLife): WrittenLife {
  const { mode, nodes, factors: learned, ...told } = life
  const of = (kind: 'revision' | 'variant') =>
    Object.fromEntries(
      lifeFactors(weakPoint).flatMap((factor, i) =>
        factor.of === kind
          ? [[factor.key, { factor: Math.exp(learned[i]!.log), seLog: learned[i]!.seLog }]]
          : [],
      ),
    )
  return {
    ...mode,
    ...told,
    covariance: life.covariance.map((row) => [...row]),
    revisions: of('revision'),
    variants: of('variant'),
    nodes: Array.from(nodes.weight, (weight, k) => [
      nodes.shape[k]!,
      nodes.scale[k]!,
      nodes.pfMean[k]!,
      weight,
    ]),
  }
}

/**
 * Reads `fit.json`. Weak points that it does not speak of keep what the library states.
 *
 * @returns the fit, and whether it was learned under this very library
 */
export function parseFit(text: string, library: Library): ParsedJson<{ fit: FleetFit; ofLibrary: boolean }> {
  const parsed = parseJson(fitSchema, text)
  if (!parsed.ok) return parsed
  const { asOf, families, signs } = parsed.value
  const errors = library.families.flatMap(({ key, weakPoints }) =>
    weakPoints.flatMap((point) => mismatch(key, point, families[key]?.weakPoints[point.key])),
  )
  if (errors.length > 0) return { ok: false, errors }
  const fit: FleetFit = {
    asOf,
    families: new Map(
      library.families.map(({ key, weakPoints }) => [
        key,
        {
          asOf,
          weakPoints: new Map(weakPoints.flatMap((p) => read(p, families[key]?.weakPoints[p.key]))),
          signs: readRates(signs[key]),
        },
      ]),
    ),
  }
  return { ok: true, value: { fit, ofLibrary: parsed.value.library === libraryHash(library) } }
}

/** A fit as it will be read from its file: scores made from it are the same to the last digit, now or later. */
export function asWritten(fit: FleetFit, library: Library): FleetFit {
  const read = parseFit(fitText(fit, library), library)
  if (!read.ok)
    throw new RangeError(read.errors.map(({ place, message }) => `${place}: ${message}`).join('; '))
  return read.value.fit
}

type ReadLife = z.output<typeof learnedLife>

function mismatch(family: string, weakPoint: WeakPoint, life: ReadLife | undefined) {
  if (!life) return []
  const place = `families.${family}.weakPoints.${weakPoint.key}`
  const lacking = lifeFactors(weakPoint).find((factor) => !writtenFactor(life, factor))
  if (lacking) return [{ place, message: `has no ${lacking.of} ${lacking.key}, which the library has` }]
  const size = life.covariance.length
  const own = life.pfMean > 0 ? 3 : 2
  const fits =
    size >= own + lifeFactors(weakPoint).length && life.covariance.every((row) => row.length === size)
  if (!fits)
    return [{ place: `${place}.covariance`, message: `found ${size} rows, which do not fit the library` }]
  return life.nodes.length === 0
    ? [{ place: `${place}.nodes`, message: 'found no nodes, expected some' }]
    : []
}

const writtenFactor = (life: ReadLife, { of, key }: { of: 'revision' | 'variant'; key: string }) =>
  (of === 'revision' ? life.revisions : life.variants)[key]

function read(weakPoint: WeakPoint, life: ReadLife | undefined): [string, LearnedLife][] {
  if (!life) return []
  const { shape, scale, pfMean, nodes, revisions, variants, ...told } = life
  const column = (i: number) => Float64Array.from(nodes, (node) => node[i]!)
  const factors = lifeFactors(weakPoint).map((factor) => {
    const { factor: value, seLog } = writtenFactor({ ...life, revisions, variants }, factor)!
    return { log: Math.log(value), seLog }
  })
  const learned: LearnedLife = {
    ...told,
    mode: { shape, scale, pfMean },
    factors,
    nodes: { shape: column(0), scale: column(1), pfMean: column(2), weight: column(3) },
  }
  return [[weakPoint.key, learned]]
}
