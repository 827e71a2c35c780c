/** One vehicle followed from its first day to the as-of date: what is believed of each component then. */
import type { Cause, Found } from '@/lib/model/joint-belief'
import { copyStrands, type Strands } from '@/lib/model/strands'
import type { ChangeRow, RepairRow } from '@/lib/records/rows'
import type { VehicleClock } from '@/lib/records/vehicle-clock'
import type { VehicleRecords } from '@/lib/records/vehicle-records'
import type { Day } from '@/lib/units/dates'
import { ComponentBelief, type LifeBeginning } from './component-belief'
import type { EnginePlan } from './engine-plan'
import { lifeThroughGap, originalLife, partialLife, renewedLife } from './life-start'
import { type Look, LookWindows, WINDOW_DAYS, WINDOW_KM } from './looks'
import { NodeLives } from './node-lives'
import type { LifeNodes, Parameters } from './parameters'
import { timelineOf, type VehicleEvent } from './timeline'
import { unknownLife } from './unknown-history'
import { type ClockReading, VehicleBelief } from './vehicle-belief'
import type { Watch } from './watch'

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

/** What following needs to know beside the records. */
export interface FollowInput {
  records: VehicleRecords
  plan: EnginePlan
  parameters: Parameters
  clock: VehicleClock
  watch: Watch
  asOf: Day
}

/** Ages that a part of unknown history may have: at the central parameters, and at each of the nodes. */
const CENTRAL_AGES = 8
const NODE_AGES = 3

export function followVehicle(input: FollowInput): FollowedVehicle {
  const follower = new Follower(input)
  return follower.run()
}

class Follower {
  private readonly events: VehicleEvent[]
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
  /** Lives that the positions of a weak point begin alike, by weak point, at the present moment. */
  private readonly alike = new Map<string, { central: Strands; lives: NodeLives }>()

  constructor(private readonly input: FollowInput) {
    const { plan, records, watch, clock, asOf } = input
    this.events = timelineOf(records, plan, (day) => clock.kmAt(day), watch.from, asOf)
    this.windows = new LookWindows(plan)
    this.beliefs = plan.components.map((c) => new ComponentBelief(c, c.weakPoint.duty[records.vehicle.duty]))
    this.day = watch.unknown ? Math.min(watch.from ?? asOf, this.firstWork() ?? asOf) : watch.bornOn
    const start = watch.unknown ? this.reading(this.day) : { distance: 0, hours: 0, time: watch.bornOn }
    this.beliefs.forEach((_, component) => {
      if (watch.unknown) this.beginUnknown(component, this.ageReading(start))
      else this.beginOriginal(component, start)
    })
    this.belief = new VehicleBelief(plan, this.beliefs, start)
    if (watch.from === null) this.settle()
  }

  /** From now on what is survived weighs the nodes, so that nodes without weight need not be followed. */
  private settle(): void {
    for (const belief of this.beliefs) belief.settle()
  }

  run(): FollowedVehicle {
    const { asOf } = this.input
    for (const event of this.events) {
      this.index++
      if (event.day >= this.day) this.handle(event)
    }
    this.moveTo(asOf)
    this.belief.correct(true)
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
    const { clock } = this.input
    return { distance: clock.kmAt(day), hours: clock.hoursAt(day), time: day }
  }

  /** The same as ages of the engine: time counts from its first day. */
  private ageReading(reading: ClockReading): ClockReading {
    return { ...reading, time: Math.max(reading.time - this.input.watch.bornOn, 0) }
  }

  private moveTo(day: Day): void {
    this.belief.moveTo(this.reading(day))
    this.day = day
  }

  /** The first repair or change of engine: from then on something is known. */
  private firstWork(): Day | null {
    const isWork = (e: VehicleEvent) =>
      e.kind === 'repair' || (e.kind === 'change' && e.change.kind !== 'owner')
    return this.events.find(isWork)?.day ?? null
  }

  // Beginnings

  private life(component: number, revision: string | null): LifeNodes {
    const { plan, parameters } = this.input
    return parameters.of(plan.components[component]!.weakPoint, revision, plan.variant)
  }

  private beginning(
    how: LifeBeginning['how'],
    component: number,
    at: ClockReading,
    revision: string | null,
  ): LifeBeginning {
    return { how, day: at.time, clock: at[this.input.plan.components[component]!.weakPoint.clock], revision }
  }

  private beginOriginal(component: number, at: ClockReading): void {
    const life = this.life(component, null)
    const beginning = this.beginning('original', component, at, null)
    this.beginAlike(component, beginning, () => ({
      central: originalLife(life.central),
      nodes: originalLife(life.nodes),
    }))
    this.beliefs[component]!.renewedAt = beginning.clock
  }

  /** @param age how far and long the engine had run by then */
  private beginUnknown(component: number, age: ClockReading): void {
    const beginning = this.beginning('unknown', component, { ...age, time: this.day }, null)
    this.beginAlike(component, beginning, () => this.unknownLifeOf(component, age))
    this.beliefs[component]!.renewedAt = null
  }

  /** Begins the life that all positions of the weak point begin at this moment. */
  private beginAlike(
    component: number,
    beginning: LifeBeginning,
    make: () => { central: Strands; nodes: Strands },
  ): void {
    const { key } = this.input.plan.components[component]!.weakPoint
    let life = this.alike.get(key)
    if (!life) {
      const { central, nodes } = make()
      life = { central, lives: new NodeLives(nodes) }
      this.alike.set(key, life)
    }
    this.beliefs[component]!.begin(copyStrands(life.central), life.lives, beginning)
  }

  private unknownLifeOf(component: number, age: ClockReading): { central: Strands; nodes: Strands } {
    const { plan } = this.input
    const { weakPoint } = plan.components[component]!
    const life = this.life(component, null)
    const engine = { age: age[weakPoint.clock], duty: this.beliefs[component]!.duty }
    const above = plan.linksTo[component]!.map((link) => ({
      strength: link.strength,
      life: this.life(link.from, null).central,
      age: age[plan.components[link.from]!.weakPoint.clock] * this.beliefs[link.from]!.duty,
    }))
    return {
      central: unknownLife(life.central, weakPoint, engine, above, CENTRAL_AGES),
      nodes: unknownLife(life.nodes, weakPoint, engine, above, NODE_AGES),
    }
  }

  /**
   * The watch begins: what was survived before it tells nothing of the parameters, and where the time before
   * is not known, parts without a renewal on record are of unknown age.
   */
  private watchBegins(day: Day): void {
    this.moveTo(day)
    const age = this.ageReading(this.reading(day))
    this.alike.clear()
    this.beliefs.forEach((belief, component) => {
      if (belief.beginning.how === 'unknown') {
        if (belief.beginning.day === day) return
        this.beginUnknown(component, age)
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
    for (const event of this.events.slice(this.index)) {
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
    this.belief.exposures.opened(component, state, renewed)
    if (state !== null) this.belief.found(component, state, this.day)
    if (state === 'sound' || renewed) this.resolve(component)
    if (!renewed) return
    this.beginRepaired(component, repair)
    this.belief.restarted(component)
    this.windows.repaired(component)
  }

  private beginRepaired(component: number, repair: RepairRow): void {
    const belief = this.beliefs[component]!
    const { weakPoint } = belief.component
    if (repair.action === 'partial') {
      const restored = repair.restored ?? weakPoint.restored
      const part = (strands: Strands) => partialLife(strands, restored, weakPoint.success)
      const beginning = this.beginning(
        'partial',
        component,
        this.reading(this.day),
        belief.beginning.revision,
      )
      belief.begin(part(belief.central), new NodeLives(part(belief.currentNodes())), beginning)
      return
    }
    const quickFixes = weakPoint.revisions.filter((r) => r.temporary)
    const temporary = repair.action === 'temporary' || quickFixes.some((r) => r.key === repair.revision)
    const revision = repair.revision ?? (temporary ? (quickFixes[0]?.key ?? null) : null)
    const life = this.life(component, revision)
    const how = temporary ? 'temporary' : 'renewed'
    const beginning = this.beginning(how, component, this.reading(this.day), revision)
    belief.begin(
      renewedLife(life.central, weakPoint.success),
      new NodeLives(renewedLife(life.nodes, weakPoint.success)),
      beginning,
    )
    if (!temporary) belief.renewedAt = beginning.clock
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
    this.alike.clear()
    this.beliefs.forEach((_, component) => {
      this.belief.exposures.opened(component, null, true)
      if (change.kind === 'engine-used') this.beginUnknown(component, this.usedEngineAge(change))
      else this.beginOriginal(component, this.reading(day))
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
      const through = (strands: Strands) => lifeThroughGap(strands, step, weakPoint.success)
      belief.begin(through(belief.central), new NodeLives(through(belief.currentNodes())), {
        ...belief.beginning,
        how: 'unknown',
      })
      this.belief.restarted(component)
    })
    this.belief.skipTo(to)
    this.day = day
  }
}
