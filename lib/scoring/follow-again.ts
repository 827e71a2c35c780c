/** Vehicles that are followed again and again while their records grow: from where all is still as it was. */
import type { Day } from '@/lib/units/dates'
import { type FollowedVehicle, Follower } from './follow-vehicle'
import { type Look, WINDOW_DAYS } from './looks'
import type { VehicleEvent } from './timeline'
import { type FollowInput, type Way, wayOf } from './way'

/** What is answered is what following from the first day answers, to the last digit. */
export class FollowedAgain {
  /** Each as far as later records are not expected to change anything. */
  private readonly kept = new Map<string, Kept>()

  /** Any day, any records; time is saved where they are those of the last time and what came since. */
  readonly follow = (input: FollowInput): FollowedVehicle => {
    const { unit } = input.records.vehicle
    const way = wayOf(input)
    const before = this.kept.get(unit)
    const same = before && isSameSoFar(before, way) ? before : null
    const follower = same?.follower ?? new Follower(way, null)
    // Up to the last trusted reading the clocks are known.
    const known = input.clock.lastTrusted?.day ?? Number.NEGATIVE_INFINITY
    follower.goOn(way, known - WINDOW_DAYS)
    this.kept.set(unit, { follower, way, lookedAt: Math.max(known, same?.lookedAt ?? known) })
    return follower.copy().run(input.asOf)
  }
}

interface Kept {
  follower: Follower
  way: Way
  /** Up to this day its events count: those it has gone through, and those that a look was told of while its window was open. */
  lookedAt: Day
}

/** Whether all that a follower has gone through and looked at is now as it was. */
function isSameSoFar({ way: before, lookedAt: until }: Kept, now: Way): boolean {
  const count = before.events.findIndex(({ day }) => day > until)
  const events = count < 0 ? before.events : before.events.slice(0, count)
  const next = now.events[events.length]
  return (
    isSameGround(before, now) &&
    !(next && next.day <= until) &&
    events.every((event, i) => {
      const other = now.events[i]
      return other !== undefined && isSameEvent(event, other) && readsAlike(before, now, event.day)
    })
  )
}

function isSameGround(before: Way, now: Way): boolean {
  const [a, b] = [before.input, now.input]
  return (
    a.plan === b.plan &&
    a.parameters === b.parameters &&
    a.records.vehicle.duty === b.records.vehicle.duty &&
    a.watch.bornOn === b.watch.bornOn &&
    a.watch.from === b.watch.from &&
    a.watch.unknown === b.watch.unknown &&
    before.begin.day === now.begin.day &&
    before.begin.reading.distance === now.begin.reading.distance &&
    before.begin.reading.hours === now.begin.reading.hours
  )
}

const readsAlike = ({ input: a }: Way, { input: b }: Way, day: Day): boolean =>
  a.clock.kmAt(day) === b.clock.kmAt(day) && a.clock.hoursAt(day) === b.clock.hoursAt(day)

function isSameEvent(a: VehicleEvent, b: VehicleEvent): boolean {
  if (a.day !== b.day) return false
  if (a.kind === 'look') return b.kind === 'look' && a.check === b.check && isSameLook(a.look, b.look)
  if (a.kind === 'repair') return b.kind === 'repair' && a.repair === b.repair
  if (a.kind === 'change') return b.kind === 'change' && a.change === b.change
  return b.kind === 'watch'
}

const isSameLook = (a: Look, b: Look): boolean =>
  a.km === b.km &&
  a.share === b.share &&
  a.permanent === b.permanent &&
  a.clearedOn === b.clearedOn &&
  isSameList(a.seen, b.seen) &&
  isSameList(a.lookedFor, b.lookedFor)

const isSameList = (a: readonly number[], b: readonly number[]): boolean =>
  a.length === b.length && a.every((value, i) => value === b[i])
