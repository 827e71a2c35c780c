import type { Clock, Family, Library, Sign, WeakPoint } from '../library-schema'

/** A library taken apart into the things that it is made of, each with its fields; of a family, put together again. */

/** What a field holds; null where nothing is stated. */
export type Stated = string | number | boolean | readonly string[] | null

/** Everything that can differ, by its place within its thing. */
export type Field =
  | LibraryField
  | WeakPointField
  | SignField
  | 'cylinders'
  | 'lifeFactor'
  | 'temporary'
  | 'absent'
  | 'detect'
  | 'strength'

type LibraryField =
  | 'name'
  | 'currency'
  | 'labourRate'
  | 'dayOffRoad'
  | 'visit'
  | 'slotDays'
  | 'zones'
  | 'looks.scan'
  | 'looks.visual'
  | 'looks.road'
  | 'looks.measure'

type WeakPointField =
  | 'component'
  | 'failureMode'
  | 'clock'
  | 'positions'
  | 'onset.p10'
  | 'onset.p50'
  | 'warning'
  | 'confidence'
  | 'duty.short'
  | 'duty.mixed'
  | 'duty.long'
  | 'severity'
  | 'harm'
  | 'renewEvery'
  | 'success'
  | 'restored'
  | 'cost.parts'
  | 'cost.hours'
  | 'cost.sharedHours'
  | 'cost.failureExtra'
  | 'cost.daysOff'
  | 'access'
  | 'part'
  | 'asASet'
  | 'zone'
  | 'cautions'
  | 'grounds'
  | 'statedBy'
  | 'statedOn'
  | 'reviewBy'
  | 'retired'

type SignField =
  | 'label'
  | 'kind'
  | 'codes'
  | 'how'
  | 'lamp'
  | 'leak'
  | 'stop'
  | 'hours'
  | 'positions'
  | 'zone'

/** What kinds of things there are. */
export type ThingKind =
  | 'library'
  | 'family'
  | 'variant'
  | 'weakPoint'
  | 'revision'
  | 'effect'
  | 'sign'
  | 'cause'
  | 'link'

/** A thing of a library, told apart by `id`. */
export type Thing = {
  id: string
  kind: ThingKind
  /** What people know it by; of something within another, that too. */
  name: string
  /** What its ages are counted in, where it has any. */
  clock: Clock | null
  /** The keys that tell it apart in its family: of what it lies within, then its own. */
  keys: readonly string[]
  /** Not told by itself where its owner came or went. */
  within: string | null
  fields: readonly (readonly [Field, Stated])[]
}

/** Every thing of a library, the library itself first. */
export function libraryThings(library: Library): Thing[] {
  const { name, currency, labourRate, dayOffRoad, visit, slotDays, zones, looks } = library
  const fields: Thing['fields'] = [
    ['name', name],
    ['currency', currency],
    ['labourRate', labourRate],
    ['dayOffRoad', dayOffRoad],
    ['visit', visit],
    ['slotDays', slotDays],
    ['zones', zones],
    ['looks.scan', looks.scan.hours],
    ['looks.visual', looks.visual.hours],
    ['looks.road', looks.road.hours],
    ['looks.measure', looks.measure.hours],
  ]
  const own: Thing = { kind: 'library', id: '', name, clock: null, keys: [], within: null, fields }
  return [own, ...library.families.flatMap(familyThings)]
}

/** Every thing of a family, the family itself first, in the order in which it states them. */
export function familyThings(family: Family): Thing[] {
  const { key, name, cylinders, retired, variants, weakPoints, signs, upstream } = family
  const within = idOf('family', key)
  const make = (kind: Thing['kind'], parts: string[], thing: string, fields: Thing['fields']): Thing => ({
    kind,
    id: idOf(kind, key, ...parts),
    name: `${name}: ${thing}`,
    clock: null,
    keys: parts,
    within,
    fields,
  })
  const partOf = (of: string) => weakPoints.find((point) => point.key === of)?.component ?? of
  return [
    {
      kind: 'family',
      id: within,
      name,
      clock: null,
      keys: [],
      within: null,
      fields: [
        ['name', name],
        ['cylinders', cylinders],
        ['grounds', family.grounds ?? null],
        ...provenanceFields(family),
        ['retired', retired],
      ],
    },
    ...variants.map((variant) =>
      make('variant', [variant.key], variant.name, [
        ['name', variant.name],
        ['retired', variant.retired],
      ]),
    ),
    ...weakPoints.flatMap((point) => weakPointThings(point, family, make)),
    ...signs.flatMap((sign) => signThings(sign, cylinders, partOf, make)),
    ...upstream.map(({ from, to, strength }) =>
      make('link', [from, to], `${partOf(from)} damages ${partOf(to)}`, [['strength', strength]]),
    ),
  ]
}

type Provenance = Pick<WeakPoint, 'statedBy' | 'statedOn' | 'reviewBy'>

const idOf = (...parts: string[]) => JSON.stringify(parts)

type Make = (kind: Thing['kind'], parts: string[], thing: string, fields: Thing['fields']) => Thing

function weakPointThings(point: WeakPoint, family: Family, make: Make): Thing[] {
  const { key, component, clock } = point
  const own = { ...make('weakPoint', [key], component, weakPointFields(point)), clock }
  const variantName = (of: string) => family.variants.find((variant) => variant.key === of)?.name ?? of
  return [
    own,
    ...point.revisions.map(({ name, ...revision }) => ({
      ...make('revision', [key, revision.key], `${component}, version ${name ?? revision.key}`, [
        ['name', name ?? revision.key],
        ['lifeFactor', revision.lifeFactor],
        ['confidence', revision.confidence],
        ['temporary', revision.temporary],
        ['retired', revision.retired],
      ]),
      within: own.id,
    })),
    ...Object.entries(point.variants).map(([variant, { lifeFactor, confidence, absent }]) => ({
      ...make('effect', [key, variant], `${component} in ${variantName(variant)}`, [
        ['absent', absent],
        ['lifeFactor', lifeFactor],
        ['confidence', confidence],
      ]),
      within: own.id,
    })),
  ]
}

const provenanceFields = ({ statedBy, statedOn, reviewBy }: Provenance): Thing['fields'] => [
  ['statedBy', statedBy ?? null],
  ['statedOn', statedOn ?? null],
  ['reviewBy', reviewBy ?? null],
]

function weakPointFields(point: WeakPoint): Thing['fields'] {
  const { onset, duty, cost } = point
  return [
    ['component', point.component],
    ['failureMode', point.failureMode],
    ['clock', point.clock],
    ['positions', point.positions],
    ['onset.p10', onset.p10],
    ['onset.p50', onset.p50],
    ['warning', point.warning],
    ['confidence', point.confidence],
    ['duty.short', duty.short],
    ['duty.mixed', duty.mixed],
    ['duty.long', duty.long],
    ['severity', point.severity],
    ['harm', point.harm],
    ['renewEvery', point.renewEvery],
    ['success', point.success],
    ['restored', point.restored],
    ['cost.parts', cost.parts],
    ['cost.hours', cost.hours],
    ['cost.sharedHours', cost.sharedHours],
    ['cost.failureExtra', cost.failureExtra],
    ['cost.daysOff', cost.daysOff],
    ['access', point.access],
    ['part', point.part],
    ['asASet', point.asASet],
    ['zone', point.zone],
    ['cautions', point.cautions],
    ['grounds', point.grounds],
    ...provenanceFields(point),
    ['retired', point.retired],
  ]
}

/**
 * How many positions a sign is stated to have; null where that follows from its codes and the cylinders, or where it
 * is at no position, which is not the first of one.
 */
export function statedPositions({ codes, positions, positioned }: Sign, cylinders: number): number | null {
  const perCylinder = codes.some((each) => each.includes('#'))
  return positioned && !(perCylinder && positions === cylinders) ? positions : null
}

function signThings(
  sign: Sign,
  cylinders: number,
  partOf: (weakPoint: string) => string,
  make: Make,
): Thing[] {
  const { key, label } = sign
  const own = make('sign', [key], label, [
    ['label', label],
    ['kind', sign.kind],
    ['codes', sign.codes],
    ['zone', sign.zone],
    ['how', sign.how],
    ['lamp', sign.lamp],
    ['leak', sign.leak],
    ['stop', sign.stop],
    ['hours', sign.hours],
    ['positions', statedPositions(sign, cylinders)],
    ['retired', sign.retired],
  ])
  const causes = sign.causes.map(({ weakPoint, detect }) => ({
    ...make('cause', [key, weakPoint], `${label} while ${partOf(weakPoint)} goes`, [['detect', detect]]),
    within: own.id,
  }))
  return [own, ...causes]
}
