import { z } from 'zod'
import { LONGEST_NAME, LONGEST_TEXT } from './text-limits'

/**
 * The library file: what an author knows of engine families, their weak points and the signs of each. This schema is
 * the only statement of its shape, its defaults and its limits; `public/library.schema.json` is made from it.
 * Units: km, hours or days after the weak point's clock; money in the library's currency.
 */

const name = z.string().max(LONGEST_NAME)
const sentences = z.string().max(LONGEST_TEXT)
const key = name.regex(/^[^\s@#?]+$/, 'expected a key without spaces, @, # or ?')
const code = name.regex(/^[0-9A-Z:#]+$/, 'expected a trouble code like P0302, P030# or 651:5')
const nameOrNone = name.nullable().default(null)
const words = sentences.nullable().default(null)
const share = z.number().min(0).max(1)
const amount = z.number().min(0).max(1e9)
const count = z.int().min(1).max(99)
const lifeFactor = z.number().min(0.001).max(1000)
const confidence = z.enum(['hunch', 'experience', 'documented'])
const ageing = z.number().min(0.01).max(100).default(1)
/** Whether a key stays for the records that name it alone: it is offered for no new ones. */
const retired = z.boolean().default(false)

/** Whose statement it is, since when, and by when somebody ought to look at it again; not stated, there is no key. */
const day = z.iso.date('expected a day like 2026-05-31').nullable().optional()
const provenance = {
  statedBy: name.nullable().optional(),
  statedOn: day,
  reviewBy: day,
}

const LEAST_SPREAD = 1.2
const LARGEST_SPREAD = 43

const onset = z
  .strictObject({ p10: z.number().positive().max(1e9), p50: z.number().positive().max(1e9) })
  .refine(({ p10, p50 }) => p50 / p10 >= LEAST_SPREAD && p50 / p10 <= LARGEST_SPREAD, {
    message: `expected p50 to be ${LEAST_SPREAD} to ${LARGEST_SPREAD} times p10`,
  })

const revision = z.strictObject({
  key,
  name: name.optional(),
  lifeFactor,
  confidence: confidence.default('experience'),
  temporary: z.boolean().default(false),
  retired,
})

const variantOfWeakPoint = z.strictObject({
  lifeFactor: lifeFactor.default(1),
  confidence: confidence.default('experience'),
  absent: z.boolean().default(false),
})

const cost = z.strictObject({
  parts: amount.default(0),
  hours: amount.default(0),
  sharedHours: amount.default(0),
  failureExtra: amount.default(0),
  daysOff: amount.default(0),
})

export const weakPointSchema = z.strictObject({
  key,
  component: name.min(1),
  failureMode: sentences.default(''),
  clock: z.enum(['distance', 'hours', 'time']).default('distance'),
  positions: count.default(1),
  onset,
  warning: amount,
  confidence,
  revisions: z.array(revision).default([]),
  variants: z.record(z.string(), variantOfWeakPoint).default({}),
  duty: z.strictObject({ short: ageing, mixed: ageing, long: ageing }).prefault({}),
  severity: z.enum(['stop', 'soon', 'plan']).default('plan'),
  harm: z.boolean().default(false),
  renewEvery: z.number().positive().max(1e9).nullable().default(null),
  success: share.default(0.98),
  restored: share.default(0.5),
  cost: cost.prefault({}),
  access: nameOrNone,
  part: nameOrNone,
  asASet: z.boolean().default(false),
  zone: nameOrNone,
  cautions: z.array(sentences).default([]),
  grounds: words,
  ...provenance,
  retired,
})

const signAsWritten = z.strictObject({
  key,
  label: name.optional(),
  kind: z.enum(['code', 'visual', 'road', 'measure']),
  codes: z.array(code).default([]),
  zone: nameOrNone,
  how: words,
  lamp: z.boolean().default(false),
  leak: share.default(0.005),
  stop: z.boolean().default(false),
  hours: amount.nullable().default(null),
  positions: count.optional(),
  causes: z.array(z.strictObject({ weakPoint: z.string(), detect: share })).default([]),
  retired,
})

const familyAsWritten = z.strictObject({
  key,
  name: name.optional(),
  cylinders: count,
  variants: z.array(z.strictObject({ key, name: name.optional(), retired })).default([]),
  weakPoints: z.array(weakPointSchema),
  signs: z.array(signAsWritten).default([]),
  upstream: z
    .array(z.strictObject({ from: z.string(), to: z.string(), strength: z.number().min(1).max(1000) }))
    .default([]),
  grounds: sentences.nullable().optional(),
  ...provenance,
  retired,
})

/** Names that are shown fall back to the key; a sign with `#` in a code has one position for each cylinder. */
export const familySchema = familyAsWritten.transform((written) => ({
  ...written,
  name: written.name ?? written.key,
  variants: written.variants.map((variant) => ({ ...variant, name: variant.name ?? variant.key })),
  signs: written.signs.map((sign) => {
    const perCylinder = sign.codes.some((each) => each.includes('#'))
    return {
      ...sign,
      label: sign.label ?? sign.key,
      positions: sign.positions ?? (perCylinder ? written.cylinders : 1),
      positioned: perCylinder || sign.positions !== undefined,
    }
  }),
}))

const look = (hours: number) => z.strictObject({ hours: amount.default(hours) }).prefault({})

export const librarySchema = z.strictObject({
  $schema: z.string().optional(),
  format: z.literal('gudgeon-library/1'),
  name: name.min(1),
  currency: z
    .string()
    .regex(/^[A-Z]{3}$/, 'expected an ISO 4217 code like EUR')
    .nullable()
    .default(null),
  labourRate: amount.default(0),
  dayOffRoad: amount.default(0),
  visit: amount.default(0),
  slotDays: z.number().positive().max(365).default(14),
  zones: z.array(name).default([]),
  looks: z
    .strictObject({ scan: look(0.3), visual: look(0.2), road: look(0.4), measure: look(0.8) })
    .prefault({}),
  families: z.array(familySchema),
})

export type Library = z.output<typeof librarySchema>
export type Family = Library['families'][number]
export type WeakPoint = Family['weakPoints'][number]
export type Revision = WeakPoint['revisions'][number]
export type Sign = Family['signs'][number]
export type Clock = WeakPoint['clock']
export type Confidence = WeakPoint['confidence']
