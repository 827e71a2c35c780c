/**
 * An engine family compiled for following vehicles: components, signs at their positions, upstream links,
 * all by index, so that the filter walks arrays and knows no key.
 */
import type { Cause } from '@/lib/model/joint-belief'
import type { Family, Sign, WeakPoint } from '@/lib/records/library'
import type { CheckRow, SignAt } from '@/lib/records/rows'
import { signsForCode } from '@/lib/records/sign-codes'
import { lacksPart } from './life-ways'

export type CheckKind = CheckRow['kind']

/** A vehicle's weak point at one position. */
export interface Component {
  weakPoint: WeakPoint
  position: number
}

/**
 * A sign at one position, or a union of several of which at least one was seen: `lamp-on` (the lamp is on and
 * nobody has read it), or a positioned sign reported without its position.
 */
export interface PlacedSign {
  key: string
  label: string
  position: number | null
  leak: number
  causes: Cause[]
  stop: boolean
  /** Indices of the signs that a union stands for; empty for a sign of its own. */
  members: number[]
}

export interface Link {
  from: number
  to: number
  /** Ageing factor k of the downstream part while the upstream part develops. */
  strength: number
}

export interface EnginePlan {
  family: Family
  variant: string | null
  components: Component[]
  /** Indices of components, upstream before downstream. */
  order: number[]
  linksFrom: Link[][]
  linksTo: Link[][]
  signs: PlacedSign[]
  /** By component, the signs that it can cause (unions included). */
  signsOf: number[][]
  /** The signs that a check of each kind looks for when nothing else is said. */
  lookedForBy: Record<CheckKind, number[]>
  /** A sign's indices at a position; null: at all its positions. */
  placesOf(sign: string, position: number | null): number[]
  /** The one index that "seen, at this position" stands for (a union where the position is not said). */
  sighting(sign: string, position: number | null): number | null
  signOfCode(code: string): SignAt | null
  /** Group of each component: those that share no sign, directly or through others, are in different groups. */
  groupOf: Int32Array
  groups: number[][]
}

/** The reserved sign: the engine lamp is on and nobody has read why. */
export const LAMP_ON = 'lamp-on'

/**
 * Compiles a family for a variant.
 *
 * @param variant null where it is not known: then only what every one that it may be lacks is left out
 * @param joinUnions whether the unions tie their members' causes into one group (only vehicles on which a
 *   union was seen need the larger groups)
 */
export function compileEngine(family: Family, variant: string | null, joinUnions: boolean): EnginePlan {
  const components = listComponents(family, variant)
  const places = new Map<string, number[]>()
  const signs = placeSigns(family, components, places)
  const unions = addUnions(family, signs, places)
  const links = placeLinks(family, components)
  const by = <T>(pick: (link: Link) => number) =>
    components.map((_, i) => links.filter((l) => pick(l) === i)) as T
  const groupOf = groupComponents(
    components.length,
    joinUnions ? signs : signs.filter((s) => s.members.length === 0),
  )
  return {
    family,
    variant,
    components,
    order: upstreamFirst(components.length, links),
    linksFrom: by((l) => l.from),
    linksTo: by((l) => l.to),
    signs,
    signsOf: components.map((_, c) =>
      signs.flatMap((s, i) => (s.causes.some((x) => x.component === c) ? [i] : [])),
    ),
    lookedForBy: defaultLooks(family, places),
    placesOf: (sign, position) => pickPlaces(places.get(sign) ?? [], position),
    sighting: (sign, position) => {
      if (position === null && unions.has(sign)) return unions.get(sign) ?? null
      return pickPlaces(places.get(sign) ?? [], position)[0] ?? null
    },
    signOfCode: signsForCode(family),
    groupOf,
    groups: listGroups(groupOf),
  }
}

function listComponents(family: Family, variant: string | null): Component[] {
  return family.weakPoints
    .filter((point) => !point.retired && !lacksPart(family, point, variant))
    .flatMap((weakPoint) =>
      Array.from({ length: weakPoint.positions }, (_, i) => ({ weakPoint, position: i + 1 })),
    )
}

const pickPlaces = (all: number[], position: number | null): number[] =>
  position === null || all.length === 1 ? all : all.slice(position - 1, position)

/** Positions of two things match by number where their counts are equal, else every one meets every other. */
const meets = (countA: number, a: number, countB: number, b: number): boolean => countA !== countB || a === b

function placeSigns(family: Family, components: Component[], places: Map<string, number[]>): PlacedSign[] {
  const signs: PlacedSign[] = []
  for (const sign of family.signs.filter((s) => !s.retired)) {
    const at: number[] = []
    for (let position = 1; position <= sign.positions; position++) {
      at.push(signs.length)
      signs.push({
        key: sign.key,
        label: sign.label,
        position: sign.positioned ? position : null,
        leak: sign.leak,
        causes: causesAt(sign, position, components),
        stop: sign.stop,
        members: [],
      })
    }
    places.set(sign.key, at)
  }
  return signs
}

function causesAt(sign: Sign, position: number, components: Component[]): Cause[] {
  return sign.causes.flatMap((cause) =>
    components.flatMap((c, component) =>
      c.weakPoint.key === cause.weakPoint &&
      meets(sign.positions, position, c.weakPoint.positions, c.position)
        ? [{ component, detect: cause.detect }]
        : [],
    ),
  )
}

/** Adds `lamp-on` and, for each positioned sign, "somewhere"; returns their indices by key. */
function addUnions(family: Family, signs: PlacedSign[], places: Map<string, number[]>): Map<string, number> {
  const unions = new Map<string, number>()
  const add = (key: string, label: string, members: number[]) => {
    unions.set(key, signs.length)
    signs.push(union(key, label, members, signs))
  }
  for (const sign of family.signs) {
    const at = places.get(sign.key) ?? []
    if (at.length > 1) add(sign.key, sign.label, at)
  }
  const lamps = family.signs.filter((s) => s.lamp).flatMap((s) => places.get(s.key) ?? [])
  if (lamps.length > 0) add(LAMP_ON, 'Engine lamp on', lamps)
  return unions
}

/** At least one of several signs: again a noisy-OR, with the members' factors multiplied. */
function union(key: string, label: string, members: number[], signs: PlacedSign[]): PlacedSign {
  const missed = new Map<number, number>()
  let quiet = 1
  for (const member of members.map((i) => signs[i]!)) {
    quiet *= 1 - member.leak
    for (const { component, detect } of member.causes)
      missed.set(component, (missed.get(component) ?? 1) * (1 - detect))
  }
  return {
    key,
    label,
    position: null,
    leak: 1 - quiet,
    causes: Array.from(missed, ([component, miss]) => ({ component, detect: 1 - miss })),
    stop: members.every((i) => signs[i]!.stop),
    members,
  }
}

function placeLinks(family: Family, components: Component[]): Link[] {
  return family.upstream.flatMap((link) =>
    components.flatMap((a, from) =>
      components.flatMap((b, to) =>
        a.weakPoint.key === link.from &&
        b.weakPoint.key === link.to &&
        meets(a.weakPoint.positions, a.position, b.weakPoint.positions, b.position)
          ? [{ from, to, strength: link.strength }]
          : [],
      ),
    ),
  )
}

/** Depth-first order; the library's schema has refused loops. */
function upstreamFirst(count: number, links: Link[]): number[] {
  const order: number[] = []
  const placed = new Set<number>()
  const place = (component: number) => {
    if (placed.has(component)) return
    placed.add(component)
    for (const link of links) if (link.to === component) place(link.from)
    order.push(component)
  }
  for (let i = 0; i < count; i++) place(i)
  return order
}

function defaultLooks(family: Family, places: Map<string, number[]>): Record<CheckKind, number[]> {
  const of = (wanted: (sign: Sign) => boolean) =>
    family.signs.filter(wanted).flatMap((s) => places.get(s.key) ?? [])
  return {
    scan: of((s) => s.kind === 'code'),
    visual: of((s) => s.kind === 'visual'),
    road: of((s) => s.kind === 'road'),
    measure: of((s) => s.kind === 'measure'),
    lamp: of((s) => s.kind === 'code' && s.lamp),
    report: [],
  }
}

function groupComponents(count: number, signs: PlacedSign[]): Int32Array {
  const group = Int32Array.from({ length: count }, (_, i) => i)
  const root = (i: number): number => (group[i] === i ? i : root(group[i]!))
  for (const sign of signs) {
    const first = sign.causes[0]
    for (const cause of sign.causes) if (first) group[root(cause.component)] = root(first.component)
  }
  const numbers = new Map<number, number>()
  return group.map((_, i) => {
    const r = root(i)
    if (!numbers.has(r)) numbers.set(r, numbers.size)
    return numbers.get(r)!
  })
}

function listGroups(groupOf: Int32Array): number[][] {
  const groups: number[][] = []
  groupOf.forEach((group, component) => {
    groups[group] = [...(groups[group] ?? []), component]
  })
  return groups
}
