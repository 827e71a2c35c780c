import type { Clock, Family, Library, Sign, WeakPoint } from './library'

/**
 * What two libraries say differently, thing by thing and field by field: what changed in one, what only one has.
 * Things are the same where they have the same key.
 */

/** What a field holds; null where nothing is stated. */
export type Stated = string | number | boolean | readonly string[] | null

export type FieldChange = { field: Field; before: Stated; after: Stated }

export type Difference = {
  kind: 'library' | 'family' | 'variant' | 'weakPoint' | 'revision' | 'effect' | 'sign' | 'cause' | 'link'
  /** What people know it by; of something within another, that too. */
  name: string
  /** What its ages are counted in, where it has any. */
  clock: Clock | null
} & ({ change: 'added' | 'gone' } | { change: 'changed'; fields: FieldChange[] })

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

/** A thing of a library, told apart by `id`. */
type Thing = Pick<Difference, 'kind' | 'name' | 'clock'> & {
  id: string
  /** Not told by itself where its owner came or went. */
  within: string | null
  fields: readonly (readonly [Field, Stated])[]
}

/**
 * What another library says differently; what is the same in both is left out.
 *
 * @param before null where there is none yet
 */
export function libraryDifferences(before: Library | null, next: Library): Difference[] {
  const [old, now] = [before ? thingsOf(before) : [], thingsOf(next)]
  const [oldById, nowById] = [byId(old), byId(now)]
  const whole = (thing: Thing, others: ReadonlyMap<string, Thing>) =>
    thing.within !== null && !others.has(thing.within)
  const told = now.flatMap((thing): Difference[] => {
    const was = oldById.get(thing.id)
    if (was) return changed(was, thing)
    return whole(thing, oldById) ? [] : [{ ...named(thing), change: 'added' }]
  })
  const gone = old.flatMap((thing): Difference[] =>
    nowById.has(thing.id) || whole(thing, nowById) ? [] : [{ ...named(thing), change: 'gone' }],
  )
  return [...told, ...gone]
}

/** The same for one family of two libraries. */
export function familyDifferences(before: Family, next: Family): Difference[] {
  const library = (family: Family): Library => ({ ...EMPTY, families: [family] })
  return libraryDifferences(library(before), library(next))
}

const EMPTY: Omit<Library, 'families'> = {
  format: 'gudgeon-library/1',
  name: '',
  currency: null,
  labourRate: 0,
  dayOffRoad: 0,
  visit: 0,
  slotDays: 0,
  zones: [],
  looks: { scan: { hours: 0 }, visual: { hours: 0 }, road: { hours: 0 }, measure: { hours: 0 } },
}

const byId = (things: readonly Thing[]) => new Map(things.map((thing) => [thing.id, thing]))

const named = ({ kind, name, clock }: Thing) => ({ kind, name, clock })

function changed(was: Thing, thing: Thing): Difference[] {
  const before = new Map(was.fields)
  const fields = thing.fields.flatMap(([field, after]): FieldChange[] => {
    const old = before.get(field) ?? null
    return JSON.stringify(old) === JSON.stringify(after) ? [] : [{ field, before: old, after }]
  })
  return fields.length === 0 ? [] : [{ ...named(thing), change: 'changed', fields }]
}

function thingsOf(library: Library): Thing[] {
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
  const own: Thing = { kind: 'library', id: '', name, clock: null, within: null, fields }
  return [own, ...library.families.flatMap(familyThings)]
}

function familyThings(family: Family): Thing[] {
  const { key, name, cylinders, retired, variants, weakPoints, signs, upstream } = family
  const within = idOf('family', key)
  const make = (kind: Thing['kind'], parts: string[], thing: string, fields: Thing['fields']): Thing => ({
    kind,
    id: idOf(kind, key, ...parts),
    name: `${name}: ${thing}`,
    clock: null,
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
      within: null,
      fields: [
        ['name', name],
        ['cylinders', cylinders],
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
    ...signs.flatMap((sign) => signThings(sign, partOf, make)),
    ...upstream.map(({ from, to, strength }) =>
      make('link', [from, to], `${partOf(from)} damages ${partOf(to)}`, [['strength', strength]]),
    ),
  ]
}

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
    ['retired', point.retired],
  ]
}

function signThings(sign: Sign, partOf: (weakPoint: string) => string, make: Make): Thing[] {
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
    ['positions', sign.positions],
    ['retired', sign.retired],
  ])
  const causes = sign.causes.map(({ weakPoint, detect }) => ({
    ...make('cause', [key, weakPoint], `${label} while ${partOf(weakPoint)} goes`, [['detect', detect]]),
    within: own.id,
  }))
  return [own, ...causes]
}
