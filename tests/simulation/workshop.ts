/** How people in the simulated world look at vehicles and what they do: they know only what they have seen. */
import type { Records } from '@/lib/records/rows'
import { codesAt, type Network, type SignAtPosition } from './network'
import type { Random } from './random'
import { checkRow, codeRow, readingRow, repairRow } from './record-rows'
import type { VehicleLife } from './vehicle-life'

export type CheckKind = 'scan' | 'visual' | 'road' | 'measure' | 'lamp'

export type Habits = {
  /** Days between readings and between checks of a kind, about; a kind left out is never done. */
  readingEvery: number
  checkEvery: Partial<Record<CheckKind, number>>
  /** Chance that a sign which is there at a check is followed up. */
  followUp: number
  /** Chance that a part is renewed on suspicion, without anyone writing down its state. */
  onSuspicion: number
  /** Chance that the codes of a scan are handed in as rows of codes rather than as signs of the check. */
  asCodes: number
}

export const usualHabits: Habits = {
  readingEvery: 20,
  checkEvery: { scan: 60, visual: 75, road: 120, measure: 180, lamp: 14 },
  followUp: 0.6,
  onSuspicion: 0.1,
  asCodes: 0.3,
}

type Renewal = 'renew' | 'partial' | 'temporary'
type Opened = { index: number; because: 'failure' | 'sign' | 'schedule' | 'together' }

/** The workshop of one vehicle; `records` grows with what it writes down. */
export function openWorkshop(
  unit: string,
  vehicle: VehicleLife,
  { parts }: Network,
  habits: Habits,
  records: Records,
  random: Random,
) {
  const usesCodes = random.chance(habits.asCodes)
  const due = new Map<CheckKind | 'reading', number>()
  const isDue = (what: CheckKind | 'reading', every: number) => {
    const day = due.get(what) ?? vehicle.day + random.below(every)
    const now = vehicle.day >= day
    due.set(what, now ? vehicle.day + Math.ceil(every * (0.7 + 0.6 * random.uniform())) : day)
    return now
  }
  const now = () => ({ unit, odometerKm: vehicle.km })

  function check(kind: CheckKind): SignAtPosition[] {
    const seen = vehicle.look(kind)
    const handedIn = seen.filter((entry) => !(usesCodes && kind === 'scan' && codesAt(entry)[0]))
    records.checks.push(
      checkRow({
        ...now(),
        checkedOn: vehicle.day,
        kind,
        seen: handedIn.map(({ sign, position }) => ({ sign: sign.key, position })),
      }),
    )
    for (const entry of seen) {
      const code = codesAt(entry)[0]
      if (!handedIn.includes(entry) && code) {
        records.codes.push(codeRow({ ...now(), seenOn: vehicle.day, code }))
      }
    }
    return seen
  }

  /** Puts a part right, or leaves it where it was found sound; tells whether it was the culprit. */
  function open({ index, because }: Opened, wanted: 'renew' | 'inspect'): boolean {
    const { weakPoint, position } = parts[index]!
    const found = vehicle.state(index)
    const silent = because !== 'failure' && wanted === 'renew' && random.chance(habits.onSuspicion)
    const action = wanted === 'inspect' && found === 'sound' ? 'inspect' : repairFor(index, because)
    const revision = action === 'inspect' ? null : revisionFor(index, action)
    records.repairs.push(
      repairRow({
        ...now(),
        doneOn: vehicle.day,
        weakPoint: weakPoint.key,
        positions: [position],
        action,
        revision,
        found: silent ? null : found,
        because,
      }),
    )
    if (action !== 'inspect') vehicle.repair(index, action, revision)
    return found !== 'sound'
  }

  function repairFor(index: number, because: Opened['because']): Renewal {
    const { revisions } = parts[index]!.weakPoint
    const clipped = revisions.some((r) => r.temporary && r.key === vehicle.lives[index]!.revision)
    if (because !== 'sign' || clipped) return 'renew'
    if (revisions.some((r) => r.temporary) && random.chance(0.3)) return 'temporary'
    return random.chance(0.05) ? 'partial' : 'renew'
  }

  /** A part that is freshened stays the revision that it is. */
  function revisionFor(index: number, action: Renewal): string | null {
    if (action === 'partial') return vehicle.lives[index]!.revision
    const choices = parts[index]!.weakPoint.revisions.filter((r) => r.temporary === (action === 'temporary'))
    if (choices.length === 0) return null
    if (action === 'renew' && random.chance(0.5)) return null
    return choices[random.below(choices.length)]!.key
  }

  function followUp(entry: SignAtPosition, opened: Set<number>) {
    const suspects = entry.causes.filter(({ part }) => !opened.has(part))
    while (suspects.length > 0) {
      const [suspect] = suspects.splice(likelyIndex(suspects.map((s) => s.detect)), 1)
      if (!suspect) return
      opened.add(suspect.part)
      const blind = random.chance(0.15)
      const culprit = open({ index: suspect.part, because: 'sign' }, blind ? 'renew' : 'inspect')
      if (culprit || blind || random.chance(0.4)) return
    }
  }

  function likelyIndex(weights: number[]): number {
    let rest = random.uniform() * weights.reduce((sum, w) => sum + w, 0)
    const index = weights.findIndex((weight) => {
      rest -= weight
      return rest < 0
    })
    return Math.max(0, index)
  }

  /** Everything that happens to the vehicle at the end of a day. */
  return function endOfDay() {
    if (isDue('reading', habits.readingEvery)) {
      records.readings.push(readingRow({ unit, readOn: vehicle.day, odometerKm: vehicle.km }))
    }
    const seen = new Set<SignAtPosition>()
    for (const [kind, every] of Object.entries(habits.checkEvery)) {
      if (isDue(kind as CheckKind, every)) for (const entry of check(kind as CheckKind)) seen.add(entry)
    }
    const opened = new Set<number>()
    parts.forEach((_, index) => {
      if (vehicle.state(index) !== 'failed') return
      opened.add(index)
      open({ index, because: 'failure' }, 'renew')
    })
    for (const entry of seen) if (random.chance(habits.followUp)) followUp(entry, opened)
    parts.forEach(({ weakPoint }, index) => {
      const life = vehicle.lives[index]!
      if (weakPoint.renewEvery !== null && life.sinceRenewal >= weakPoint.renewEvery) {
        open({ index, because: 'schedule' }, 'renew')
      }
    })
  }
}
