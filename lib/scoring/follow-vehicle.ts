/** One vehicle followed from its first day to the as-of date: what is believed of each component then. */
import type { Cause, Found } from '@/lib/model/joint-belief'
import type { EndingKind } from '@/lib/model/lived-life'
import type { ChangeRow, RepairRow } from '@/lib/records/rows'
import type { Day } from '@/lib/units/dates'
import { ComponentBelief } from './component-belief'
import { LifeBeginnings } from './life-beginnings'
import { LifeLog, type LooksForSigns } from './life-log'
import { type Finding, type Look, LookWindows, WINDOW_DAYS, WINDOW_KM } from './looks'
import type { VehicleEvent } from './timeline'
import { type ClockReading, VehicleBelief } from './vehicle-belief'
import { type FollowInput, readingOf, type Way, wayOf } from './way'

/** A sign that must not be driven with, seen and not yet resolved. */
export interface OpenStop {
  sign: number
  day: Day
  /** Linked components that were neither repaired nor found sound since. */
  unresolved: Set<number>
}

export interface FollowedVehicle {
  belief: VehicleBelief
  windows: LookWindows
  stops: OpenStop[]
  lastFullScanOn: Day | null
  lastLookedAtOn: Day | null
  /** Every sighting of a sign, repeated ones too, in order. */
  sightings: { sign: number; day: Day }[]
  /** Repairs of each component, latest last. */
  repairs: { component: number; day: Day; repair: RepairRow }[]
}

/** A sighting so long before an opening explains why it was opened. */
const SIGHTED_DAYS = 90

/**
 * How a life ended at an opening that renewed it, or found it failed.
 *
 * @param sighted whether a sign of it was on record shortly before
 */
function endingOf({ because }: RepairRow, found: Found | null, sighted: boolean): EndingKind {
  if (found === 'failed') return because === 'schedule' || because === 'together' ? 'failed-since' : 'failed'
  if (found === 'developing') return because === 'sign' && !sighted ? 'noticed' : 'developing'
  return found ?? 'open'
}

export function followVehicle(input: FollowInput): FollowedVehicle {
  return new Follower(wayOf(input), null).run(input.asOf)
}

/**
 * The lives that the vehicle's components have lived.
 *
 * @param seenUntil when it was lost from sight, or left; the as-of date where it was not
 */
export function livesOf(
  input: FollowInput,
  seenUntil: Day,
): Pick<LifeLog, 'lives' | 'leftOut' | 'beforeWatch'> & LooksForSigns {
  const log = new LifeLog(input.plan, input.watch.from === null)
  new Follower(wayOf(input), log).run(seenUntil)
  return log
}

export class Follower {
  private readonly windows: LookWindows
  private readonly beliefs: ComponentBelief[]
  private readonly belief: VehicleBelief
  private readonly stops = new Map<number, OpenStop>()
  private readonly result: Omit<FollowedVehicle, 'belief' | 'windows' | 'stops'> = {
    lastFullScanOn: null,
    lastLookedAtOn: null,
    sightings: [],
    repairs: [],
  }
  private day: Day
  private index = 0
  private readonly beginnings: LifeBeginnings

  /** @param log where the lives are written down, if anywhere */
  constructor(
    private way: Way,
    private readonly log: LifeLog | null,
  ) {
    const { plan, parameters, records, watch } = way.input
    this.windows = new LookWindows(plan)
    this.beliefs = plan.components.map((c) => new ComponentBelief(c, c.weakPoint.duty[records.vehicle.duty]))
    const { day, reading: start } = way.begin
    this.day = day
    this.beginnings = new LifeBeginnings(plan, parameters, this.beliefs, log)
    this.beliefs.forEach((_, component) => {
      if (watch.unknown) this.beginnings.unknown(component, this.ageReading(start), this.day)
      else this.beginnings.original(component, start)
    })
    this.belief = new VehicleBelief(plan, this.beliefs, start, this.hears())
    if (watch.from === null) this.settle()
  }

  /** From now on what is survived weighs the nodes, so that nodes without weight need not be followed. */
  private settle(): void {
    for (const belief of this.beliefs) belief.settle()
  }

  private get input(): FollowInput {
    return this.way.input
  }

  /** The same, to go its own way; it writes no lives down. */
  copy(): Follower {
    const own: Follower = Object.create(Follower.prototype)
    const belief = this.belief.copy()
    const { plan, parameters } = this.input
    const stops = Array.from(this.stops, ([sign, stop]): [number, OpenStop] => [
      sign,
      { ...stop, unresolved: new Set(stop.unresolved) },
    ])
    const { sightings, repairs } = this.result
    return Object.assign(own, this, {
      belief,
      beliefs: belief.beliefs,
      beginnings: new LifeBeginnings(plan, parameters, belief.beliefs, null),
      windows: this.windows.copy(),
      stops: new Map(stops),
      result: { ...this.result, sightings: sightings.slice(), repairs: repairs.slice() },
      log: null,
    })
  }

  /**
   * Goes through the events up to a day.
   *
   * @param way of the records now: the same as before up to where it was followed
   */
  goOn(way: Way, until: Day): void {
    this.way = way
    const { events } = way
    for (; this.index < events.length && events[this.index]!.day <= until; ) {
      const event = events[this.index++]!
      if (event.day >= this.day) this.handle(event)
    }
  }

  /** @param until when following ends: the as-of date, or before */
  run(until: Day): FollowedVehicle {
    this.goOn(this.way, until)
    this.moveTo(until)
    this.belief.correct(true)
    this.beliefs.forEach((_, component) => {
      this.log?.ends(component, 'open', this.ageOf(component))
    })
    return { belief: this.belief, windows: this.windows, stops: [...this.stops.values()], ...this.result }
  }

  private handle(event: VehicleEvent): void {
    if (event.kind === 'look') this.look(event.look, event.check)
    else if (event.kind === 'repair') this.repair(event.repair, event.day)
    else if (event.kind === 'change') this.change(event.change, event.day)
    else this.watchBegins(event.day)
  }

  // Moments

  private reading(day: Day): ClockReading {
    return readingOf(this.input.clock, day)
  }

  /** The same as ages of the engine: time counts from its first day. */
  private ageReading(reading: ClockReading): ClockReading {
    return { ...reading, time: Math.max(reading.time - this.input.watch.bornOn, 0) }
  }

  private moveTo(day: Day): void {
    this.belief.moveTo(this.reading(day))
    this.day = day
  }

  // Beginnings

  /**
   * The watch begins: what was survived before it tells nothing of the parameters, and where the time before
   * is not known, parts without a renewal on record are of unknown age.
   */
  private watchBegins(day: Day): void {
    this.moveTo(day)
    const age = this.ageReading(this.reading(day))
    this.beginnings.nextMoment()
    this.beliefs.forEach((belief, component) => {
      this.log?.watchBegins(component, this.ageOf(component))
      if (belief.beginning.how === 'unknown') {
        if (belief.beginning.day === day) return
        this.beginnings.unknown(component, age, day)
        this.belief.restarted(component)
      } else belief.forgetWeights()
    })
    this.settle()
  }

  // Looks

  private look(look: Look, check: string | null): void {
    if (check !== 'report' && check !== 'lamp' && check !== null) this.result.lastLookedAtOn = look.day
    if (check === 'scan' && look.share >= 1) this.result.lastFullScanOn = look.day
    for (const sign of look.seen) {
      this.result.sightings.push({ sign, day: look.day })
      this.raiseStop(sign, look.day)
    }
    const findings = this.windows.take(look, (members) => this.seenLater(members, look))
    if (findings.length === 0) return
    this.moveTo(look.day)
    this.belief.look(findings, look.day)
    if (this.log) this.logLook(findings)
  }

  private raiseStop(sign: number, day: Day): void {
    const placed = this.input.plan.signs[sign]!
    if (!placed.stop) return
    this.stops.set(sign, { sign, day, unresolved: new Set(placed.causes.map((c) => c.component)) })
  }

  private resolve(component: number): void {
    for (const [sign, stop] of this.stops) {
      if (stop.unresolved.delete(component) && stop.unresolved.size === 0) this.stops.delete(sign)
    }
  }

  /** Whether one of these signs is seen while the window that `look` opens lasts: until a cause is repaired. */
  private seenLater(members: number[], look: Look): boolean {
    for (const event of this.way.events.slice(this.index)) {
      if (event.day - look.day >= WINDOW_DAYS) return false
      if (event.kind === 'repair' && this.endsWindow(event.repair, members)) return false
      if (event.kind !== 'look') continue
      if (event.look.km - look.km >= WINDOW_KM) return false
      if (event.look.seen.some((sign) => members.includes(sign))) return true
    }
    return false
  }

  private endsWindow({ action, weakPoint, positions }: RepairRow, signs: number[]): boolean {
    const { plan } = this.input
    const isRepaired = ({ component }: Cause) => {
      const part = plan.components[component]!
      return part.weakPoint.key === weakPoint && positions.includes(part.position)
    }
    return action !== 'inspect' && signs.some((sign) => plan.signs[sign]!.causes.some(isRepaired))
  }

  // Repairs

  private repair(repair: RepairRow, day: Day): void {
    const { plan } = this.input
    const found = repair.found ?? (repair.because === 'failure' ? 'failed' : null)
    this.moveTo(day)
    plan.components.forEach((c, component) => {
      if (c.weakPoint.key !== repair.weakPoint || !repair.positions.includes(c.position)) return
      this.result.repairs.push({ component, day, repair })
      this.openComponent(component, repair, found)
    })
    this.belief.correct(false)
  }

  private openComponent(component: number, repair: RepairRow, found: Found | null): void {
    const { weakPoint } = this.input.plan.components[component]!
    const renewed = repair.action !== 'inspect'
    // A part without warning is sound or failed; "going" then says nothing.
    const state = found === 'developing' && weakPoint.warning === 0 ? null : found
    this.logOpening(component, repair, found, renewed)
    this.belief.exposures.opened(component, state, renewed)
    if (state !== null) this.belief.found(component, state, this.day)
    if (state === 'sound' || renewed) this.resolve(component)
    if (!renewed) return
    this.beginnings.repaired(component, repair, this.reading(this.day))
    this.belief.restarted(component)
    this.windows.repaired(component)
  }

  // What a fit needs to know

  /** Age of a component's life; of one whose beginning is known, there is only one. */
  private ageOf(component: number): number {
    return this.beliefs[component]!.central.age[0]!
  }

  private hears() {
    const { log } = this
    if (log === null) return null
    return (component: number, odds: number) => log.heard(component, this.ageOf(component), odds)
  }

  private logLook(findings: Finding[]): void {
    for (const finding of findings) {
      this.log?.lookedFor(
        finding,
        (component) => this.ageOf(component),
        (component) => this.belief.developing(component),
      )
    }
  }

  private logOpening(component: number, repair: RepairRow, found: Found | null, renewed: boolean): void {
    if (!this.log) return
    const age = this.ageOf(component)
    const { warning } = this.input.plan.components[component]!.weakPoint
    if (renewed || found === 'failed') {
      this.log.ends(component, endingOf(repair, found, this.sightedLately(component)), age, renewed)
      return
    }
    if (found === 'sound') this.log.heard(component, age, 0)
    if (found === 'developing' && warning > 0) this.log.heard(component, age, Number.POSITIVE_INFINITY)
    this.log.wasLookedAt(component, age)
  }

  /** Whether a sign that the component can cause is on record in the time before, in its present life. */
  private sightedLately(component: number): boolean {
    const since = Math.max(this.day - SIGHTED_DAYS, this.beliefs[component]!.beginning.day)
    return this.result.sightings.some(
      ({ sign, day }) =>
        day >= since && this.input.plan.signs[sign]!.causes.some((c) => c.component === component),
    )
  }

  // Changes

  private change(change: ChangeRow, day: Day): void {
    if (change.kind === 'owner' || change.kind === 'cluster') return
    if (change.kind === 'gap-to') {
      this.throughGap(day)
      return
    }
    this.moveTo(day)
    if (change.kind === 'gap-from') return
    this.beginnings.nextMoment()
    this.beliefs.forEach((_, component) => {
      this.log?.ends(component, 'open', this.ageOf(component))
      this.belief.exposures.opened(component, null, true)
      if (change.kind === 'engine-used') this.beginnings.unknown(component, this.usedEngineAge(change), day)
      else this.beginnings.original(component, this.reading(day))
      this.belief.restarted(component)
      this.windows.repaired(component)
      this.resolve(component)
    })
  }

  private usedEngineAge(change: ChangeRow): ClockReading {
    const { clock } = this.input
    const distance = change.engineKm ?? clock.kmAt(change.on)
    const perKm = distance / Math.max(clock.kmAt(change.on), 1)
    return {
      distance,
      hours: clock.hoursAt(change.on) * perKm,
      time: Math.max(change.on - this.input.watch.bornOn, 0) * perKm,
    }
  }

  /** Records are missing: each life goes on as one that may have been renewed unseen. */
  private throughGap(day: Day): void {
    const from = this.reading(this.day)
    const to = this.reading(day)
    this.beliefs.forEach((belief, component) => {
      const { weakPoint } = belief.component
      const step = Math.max(to[weakPoint.clock] - from[weakPoint.clock], 0) * belief.duty
      if (belief.failed || !(step > 0)) return
      this.beginnings.throughGap(component, step)
      this.belief.restarted(component)
    })
    this.belief.skipTo(to)
    this.day = day
  }
}
