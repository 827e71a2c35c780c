import { type Component, isDeveloping, type LifeMaker } from './lives'
import type { Random } from './random'
import type { RepairLine } from './rows'
import type { Scribe } from './scribe'
import type { Senses } from './signs'
import { LONG_LASTING_BATCH, NEW_VERSION_FROM } from './truth'
import type { Vehicle } from './vehicle'

export type Because = NonNullable<RepairLine['because']>

const PARTS_STORE = ['Fellside Parts', 'Own store']

const EXCHANGE_ABOVE = 1000

export const hasFailed = ({ life }: Component): boolean => life.age >= life.failAge

const isQuickFix = ({ weakPoint, life }: Component): boolean =>
  weakPoint.revisions?.some((r) => r.key === life.revision && r.temporary) === true

const conditionOf = (component: Component): 'failed' | 'developing' | 'sound' =>
  hasFailed(component) ? 'failed' : isDeveloping(component) ? 'developing' : 'sound'

/** A row says one thing of all its positions: parts of one kind that came out alike. */
const byCondition = (parts: readonly Component[]): Component[][] =>
  (['failed', 'developing', 'sound'] as const)
    .map((condition) => parts.filter((part) => conditionOf(part) === condition))
    .filter((alike) => alike.length > 0)

/** The hands of the workshop: whatever is done to a part is done and written down here. */
export class Bench {
  constructor(
    private readonly vehicle: Vehicle,
    readonly components: readonly Component[],
    private readonly lives: LifeMaker,
    private readonly senses: Senses,
    private readonly scribe: Scribe,
    private readonly random: Random,
  ) {}

  /** Mends one part the way this workshop likes: now and then a quick fix or a cleaning, mostly a new part. */
  mend(component: Component, day: number, km: number, because: Because): void {
    const quick = component.weakPoint.revisions?.find((r) => r.temporary)
    const wasQuick = isQuickFix(component)
    const cleanable = component.weakPoint.restored !== undefined && because !== 'failure' && !wasQuick
    if (quick && !wasQuick && this.random.chance(0.4)) this.fixQuickly(component, quick.key, day, km, because)
    else if (cleanable && this.random.chance(0.4)) this.clean(component, day, km, because)
    else this.replace(component, day, km, because)
  }

  private replace(component: Component, day: number, km: number, because: Because): void {
    this.renew([component], day, km, because)
    if (component.weakPoint.asASet && this.random.chance(0.5)) this.renewRestOfSet(component, day, km)
    this.renewNeighbours(component, day, km)
  }

  renew(parts: Component[], day: number, km: number, because: Because): void {
    const [first] = parts
    if (!first) return
    const { revision, batch } = this.fromStore(first, day)
    for (const alike of byCondition(parts)) {
      const supplier = this.random.pick(PARTS_STORE)
      this.write(alike, day, km, because, { action: 'renew', revision, batch, supplier })
    }
    for (const part of parts) {
      part.life = this.lives.fresh(part.weakPoint, revision, batch)
      if (this.random.chance(0.02)) part.life.onsetAge = 0
    }
    this.senses.forget(first.weakPoint.key)
    if (because === 'failure' && first.weakPoint.cost.failureExtra >= EXCHANGE_ABOVE)
      this.mayExchangeEngine(day, km)
  }

  /** Opened, looked at, closed again. */
  inspect(parts: Component[], day: number, km: number): void {
    this.write(parts, day, km, 'sign', { action: 'inspect', parts_cost: null })
    const [first] = parts
    if (first) this.senses.forget(first.weakPoint.key)
  }

  private fixQuickly(
    component: Component,
    revision: string,
    day: number,
    km: number,
    because: Because,
  ): void {
    this.write([component], day, km, because, {
      action: 'temporary',
      revision,
      parts_cost: 12,
      labour_hours: 0.5,
    })
    const { sinceRenewal } = component.life
    component.life = { ...this.lives.fresh(component.weakPoint, revision), sinceRenewal }
    this.senses.forget(component.weakPoint.key)
  }

  private clean(component: Component, day: number, km: number, because: Because): void {
    const restored = component.weakPoint.restored ?? 0
    const stated = this.random.chance(0.5) ? restored : null
    this.write([component], day, km, because, { action: 'partial', restored: stated, parts_cost: 18 })
    const age = component.life.age * (1 - restored)
    let life = this.lives.fresh(component.weakPoint, component.life.revision)
    while (life.onsetAge < age) life = this.lives.fresh(component.weakPoint, component.life.revision)
    component.life = { ...life, age, sinceRenewal: component.life.sinceRenewal }
    this.senses.forget(component.weakPoint.key)
  }

  private renewRestOfSet(component: Component, day: number, km: number): void {
    const others = this.components.filter((c) => c.weakPoint === component.weakPoint && c !== component)
    this.renew(others, day, km, 'together')
  }

  /** What lies open anyway and has done most of its life goes too, about every third time. */
  private renewNeighbours(component: Component, day: number, km: number): void {
    const { access, key } = component.weakPoint
    if (!access) return
    for (const weakPoint of new Set(this.components.map((c) => c.weakPoint))) {
      if (weakPoint.access !== access || weakPoint.key === key) continue
      const parts = this.components.filter((c) => c.weakPoint === weakPoint)
      const old = Math.max(...parts.map((c) => c.life.age)) > 0.75 * weakPoint.onset.p50
      if (old && this.random.chance(0.35)) this.renew(parts, day, km, 'together')
    }
  }

  private fromStore(component: Component, day: number): { revision: string | null; batch: string | null } {
    const { weakPoint } = component
    const newFrom = NEW_VERSION_FROM[`${this.vehicle.familyKey}/${weakPoint.key}`]
    if (newFrom !== undefined) {
      if (day < newFrom) return { revision: null, batch: null }
      const batch = `K${Math.floor((day - newFrom) / 150) + 1}`
      return { revision: 'mk2', batch: this.random.chance(0.6) ? batch : LONG_LASTING_BATCH.name }
    }
    const other = weakPoint.revisions?.find((r) => !r.temporary)
    return { revision: other && this.random.chance(0.3) ? other.key : null, batch: null }
  }

  private write(
    parts: Component[],
    day: number,
    km: number,
    because: Because,
    card: Partial<RepairLine> & Pick<RepairLine, 'action'>,
  ): void {
    const [first] = parts
    if (!first) return
    const { weakPoint } = first
    const positions = parts.map((c) => c.position).sort((a, b) => a - b)
    const all = positions.length === (weakPoint.positions ?? 1)
    const { parts: price, hours, sharedHours = 0 } = weakPoint.cost
    this.scribe.repair(day, km, {
      weak_point: weakPoint.key,
      positions: all ? 'all' : positions.join(' '),
      found: this.foundState(first, because),
      because,
      parts_cost: Math.round(price * parts.length * this.random.between(0.92, 1.12)),
      labour_hours: Math.round(10 * (sharedHours + (hours - sharedHours) * parts.length)) / 10,
      ...card,
    })
  }

  private foundState(component: Component, because: Because): RepairLine['found'] {
    if (because === 'failure') return 'failed'
    if (this.random.chance(because === 'schedule' ? 0.4 : 0.15)) return null
    return conditionOf(component)
  }

  /** Half of the great breakdowns end with another engine: every part starts again, or goes on at the donor's age. */
  private mayExchangeEngine(day: number, km: number): void {
    if (!this.random.chance(0.5)) return
    const kind = this.random.pick(['engine-used', 'engine-rebuilt', 'engine-new'] as const)
    const engineKm = kind === 'engine-used' ? this.random.whole(40, 110) * 1000 : null
    this.scribe.book.changes.push({
      unit: this.vehicle.unit,
      on: day,
      odometer_km: Math.round(km),
      kind,
      engine_km: engineKm,
      offset_km: null,
    })
    for (const c of this.components) {
      const age = c.weakPoint.clock === 'hours' ? (engineKm ?? 0) / this.vehicle.kmPerHour : (engineKm ?? 0)
      c.life =
        engineKm !== null && c.weakPoint.clock !== 'time'
          ? this.lives.met(c.weakPoint, age)
          : this.lives.fresh(c.weakPoint)
      this.senses.forget(c.weakPoint.key)
    }
  }
}
