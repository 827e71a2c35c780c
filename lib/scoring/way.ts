/** What a vehicle is followed along: its events in order, and where they begin. */
import type { VehicleClock } from '@/lib/records/vehicle-clock'
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import type { Day } from '@/lib/units/dates'
import type { EnginePlan } from './engine-plan'
import type { Parameters } from './parameters'
import { timelineOf, type VehicleEvent } from './timeline'
import type { ClockReading } from './vehicle-belief'
import type { Watch } from './watch'

/** What following needs to know beside the records. */
export interface FollowInput {
  records: VehicleRecords
  plan: EnginePlan
  parameters: Parameters
  clock: VehicleClock
  watch: Watch
  asOf: Day
}

/** Records as a sequence of events, and what following them rests on. */
export interface Way {
  input: FollowInput
  events: readonly VehicleEvent[]
  /** Where it begins: on which day, and what the clocks read then. */
  begin: { day: Day; reading: ClockReading }
}

export function wayOf(input: FollowInput): Way {
  const { plan, records, watch, clock, asOf } = input
  const events = timelineOf(records, plan, (day) => clock.kmAt(day), watch.from, asOf)
  if (!watch.unknown) {
    return {
      input,
      events,
      begin: { day: watch.bornOn, reading: { distance: 0, hours: 0, time: watch.bornOn } },
    }
  }
  const day = Math.min(watch.from ?? asOf, firstWork(events) ?? asOf)
  return { input, events, begin: { day, reading: readingOf(clock, day) } }
}

/** What the clocks read on a day. */
export const readingOf = (clock: VehicleClock, day: Day): ClockReading => ({
  distance: clock.kmAt(day),
  hours: clock.hoursAt(day),
  time: day,
})

/** The first repair or change of engine: from then on something is known. */
function firstWork(events: readonly VehicleEvent[]): Day | null {
  const isWork = (e: VehicleEvent) =>
    e.kind === 'repair' || (e.kind === 'change' && e.change.kind !== 'owner')
  return events.find(isWork)?.day ?? null
}
