import { unknownName } from '../cells'
import type { Family, Library, Sign, WeakPoint } from '../library-schema'
import type { JsonError } from '../parse-json'
import { LAMP_ON, OTHER_WEAK_POINT } from '../rows'
import { codeAtPosition, parseTroubleCode } from '../trouble-codes'

type Report = (place: string, message: string) => void

/** What a library that has the right shape says wrongly about itself: double keys, names of nothing, loops. */
export function referenceErrors(library: Library): JsonError[] {
  const errors: JsonError[] = []
  const report: Report = (place, message) => errors.push({ place, message })
  doubles('families', library.families, report)
  for (const family of library.families) {
    const place = `families[${family.key}]`
    doubles(`${place}.variants`, family.variants, report)
    doubles(`${place}.weakPoints`, family.weakPoints, report)
    doubles(`${place}.signs`, family.signs, report)
    for (const point of family.weakPoints) weakPointErrors(point, family, library, place, report)
    for (const sign of family.signs) signErrors(sign, family, library, place, report)
    codeErrors(family, place, report)
    upstreamErrors(family, place, report)
  }
  return errors
}

function doubles(place: string, members: { key: string }[], report: Report): void {
  const seen = new Set<string>()
  for (const { key } of members) {
    if (seen.has(key)) report(place, `found the key "${key}" twice, expected each once`)
    seen.add(key)
  }
}

const keysOf = (members: { key: string }[]) => members.map(({ key }) => key)

function zoneErrors(place: string, zone: string | null, library: Library, report: Report): void {
  const known = library.zones.length === 0 || zone === null || library.zones.includes(zone)
  if (!known) report(`${place}.zone`, `${unknownName(zone, library.zones)} (the library's zones)`)
}

function weakPointErrors(
  point: WeakPoint,
  family: Family,
  library: Library,
  parent: string,
  report: Report,
): void {
  const place = `${parent}.weakPoints[${point.key}]`
  if (point.key === OTHER_WEAK_POINT)
    report(place, `the key "${OTHER_WEAK_POINT}" is reserved for work beside the rest`)
  zoneErrors(place, point.zone, library, report)
  doubles(`${place}.revisions`, point.revisions, report)
  const variants = keysOf(family.variants)
  for (const variant of Object.keys(point.variants)) {
    if (!variants.includes(variant)) report(`${place}.variants`, unknownName(variant, variants))
  }
}

function signErrors(sign: Sign, family: Family, library: Library, parent: string, report: Report): void {
  const place = `${parent}.signs[${sign.key}]`
  if (sign.key === LAMP_ON) report(place, `the key "${LAMP_ON}" is reserved for a lamp that nobody has read`)
  zoneErrors(place, sign.zone, library, report)
  const known = keysOf(family.weakPoints)
  const seen = new Set<string>()
  for (const { weakPoint } of sign.causes) {
    if (!known.includes(weakPoint)) report(`${place}.causes`, unknownName(weakPoint, known))
    if (seen.has(weakPoint)) report(`${place}.causes`, `found "${weakPoint}" twice, expected each once`)
    seen.add(weakPoint)
  }
}

/** Each code has a form of the standards, and belongs to one sign (at one position). */
function codeErrors(family: Family, parent: string, report: Report): void {
  const owners = new Map<string, string>()
  for (const sign of family.signs) {
    const place = `${parent}.signs[${sign.key}].codes`
    for (const pattern of sign.codes) {
      for (const code of codesOf(pattern, sign)) {
        const owner = owners.get(code ?? '')
        if (code === null) report(place, `found "${pattern}", expected a code like P0302, P030# or 651:5`)
        else if (owner !== undefined)
          report(place, `found ${code}, which belongs to the sign "${owner}" already`)
        else owners.set(code, sign.key)
      }
    }
  }
}

function codesOf(pattern: string, sign: Sign): (string | null)[] {
  if (!pattern.includes('#')) return [parseTroubleCode(pattern)?.code ?? null]
  const codes = Array.from({ length: sign.positions }, (_, i) => codeAtPosition(pattern, i + 1))
  return codes.includes(null) ? [null] : codes
}

function upstreamErrors(family: Family, parent: string, report: Report): void {
  const known = keysOf(family.weakPoints)
  const below = new Map<string, string[]>()
  family.upstream.forEach(({ from, to }, index) => {
    const place = `${parent}.upstream[${index}]`
    for (const [end, name] of Object.entries({ from, to })) {
      if (!known.includes(name)) report(`${place}.${end}`, unknownName(name, known))
    }
    const others = below.get(from) ?? []
    if (others.includes(to)) report(place, `found the link from "${from}" to "${to}" twice, expected it once`)
    below.set(from, [...others, to])
  })
  const loop = loopIn(below)
  if (loop) report(`${parent}.upstream`, `found a loop: ${loop.join(' → ')}; expected damage to go one way`)
}

/** The first loop of a directed graph as the path that closes it, or null. Depth first, O(links). */
function loopIn(below: Map<string, string[]>): string[] | null {
  const done = new Set<string>()
  const path: string[] = []
  const visit = (name: string): string[] | null => {
    const start = path.indexOf(name)
    if (start >= 0) return [...path.slice(start), name]
    if (done.has(name)) return null
    path.push(name)
    for (const next of below.get(name) ?? []) {
      const loop = visit(next)
      if (loop) return loop
    }
    path.pop()
    done.add(name)
    return null
  }
  for (const name of below.keys()) {
    const loop = visit(name)
    if (loop) return loop
  }
  return null
}
