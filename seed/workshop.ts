import { type Bench, hasFailed } from './bench'
import { type Component, isDeveloping } from './lives'
import type { Random } from './random'
import type { Scribe } from './scribe'
import { type Senses, type Showing, signText } from './signs'
import type { Vehicle } from './vehicle'

/** Work that has nothing to do with a known weak point, but brings the vehicle in. */
const OTHER_WORK = [
  'tyres',
  'brake pads and discs',
  'body test',
  'tow bar',
  'lights',
  'suspension arm',
  'wipers and glass',
]

const WEEKS_PER_YEAR = 52

type Visit = { day: number; km: number; service: boolean; failed: Component[]; told: Showing[] }

/** The habits of the workshop with one vehicle: when it comes in, what is looked at, what is blamed. */
export class Workshop {
  private bookedFor: number | null = null
  private told: Showing[] = []
  private nextServiceKm: number
  private nextServiceDay: number
  private readonly triesBySign = new Map<string, number>()

  constructor(
    private readonly vehicle: Vehicle,
    private readonly bench: Bench,
    private readonly senses: Senses,
    private readonly scribe: Scribe,
    private readonly random: Random,
  ) {
    this.nextServiceKm = vehicle.firstKm + vehicle.serviceEveryKm * random.between(0.3, 1)
    this.nextServiceDay = vehicle.firstDay + random.whole(...vehicle.habits.firstServiceDays)
  }

  /** Somebody has seen or heard something: at once if it must not be driven, else when there is a slot. */
  hearOf(showings: readonly Showing[], day: number): void {
    if (showings.length === 0) return
    this.told.push(...showings)
    const urgent = showings.some(
      (s) => s.sign.stop || s.causes.some((c) => c.component.weakPoint.severity === 'stop'),
    )
    const slot = urgent ? day : day + this.random.whole(2, 10)
    this.bookedFor = Math.min(this.bookedFor ?? slot, slot)
  }

  /** One week's end: breakdowns, booked visits and services that have come due. */
  week(day: number, km: number, failed: Component[]): void {
    const service = km >= this.nextServiceKm || day >= this.nextServiceDay
    const booked = this.bookedFor !== null && day >= this.bookedFor
    const other = this.random.chance(this.vehicle.habits.otherVisitsPerYear / WEEKS_PER_YEAR)
    if (!service && !booked && !other && failed.length === 0) return
    if (other) writeOtherWork(this.scribe, day, km, this.random)
    this.visit({ day, km, service, failed, told: this.told })
    if (!service) return
    this.nextServiceKm = km + this.vehicle.serviceEveryKm * this.random.between(0.9, 1.1)
    this.nextServiceDay = day + this.random.whole(330, 400)
  }

  private visit(visit: Visit): void {
    const { day, km } = visit
    this.bookedFor = null
    this.told = []
    const seen = this.lookAround(visit)
    for (const component of visit.failed) this.bench.mend(component, day, km, 'failure')
    const done = new Set(visit.failed.map((c) => c.weakPoint.key))
    const put = seen.filter((showing) => !this.deal(showing, visit, done))
    if (visit.service) this.scheduled(day, km, done)
    if (put.length > 0) this.bookedFor = day + this.random.whole(...this.vehicle.habits.putOffDays)
    else if (seen.some((s) => s.sign.kind === 'code') || visit.failed.length > 0) this.closeUp(day, km)
  }

  /** Reads, looks and drives; what a driver has told of counts as seen, whether it shows today or not. */
  private lookAround({ day, km, service, failed, told }: Visit): Showing[] {
    const { scansUnasked, looksUnasked, drivesAtService } = this.vehicle.habits
    const seen: Showing[] = []
    const look = (kind: 'visual' | 'road') => {
      const found = this.senses.look(kind, day)
      this.scribe.check(kind, day, km, found.map(signText))
      seen.push(...found)
    }
    const asked = told.length > 0 || failed.length > 0
    if (asked || this.random.chance(scansUnasked)) {
      const codes = this.senses.look('scan', day)
      this.scribe.scan(day, km, codes)
      seen.push(...codes)
    }
    const leaks = told.some((s) => s.sign.kind === 'visual')
    if (service || leaks || this.random.chance(looksUnasked)) look('visual')
    if (told.some((s) => s.sign.kind === 'road') || (service && drivesAtService)) look('road')
    return [...new Set([...seen, ...told])]
  }

  /** Codes are cleared after the work; some are read again after a short drive, most again weeks later. */
  private closeUp(day: number, km: number): void {
    this.scribe.clearCodes(day, km)
    this.senses.clearCodes()
    if (this.random.chance(this.vehicle.habits.returnsToCheck))
      this.bookedFor = day + this.random.whole(20, 40)
    if (day < 0 && this.random.chance(0.35)) {
      const triedKm = km + this.random.between(8, 70)
      this.scribe.scan(day + 1, triedKm, this.senses.look('scan', day + 1))
    }
  }

  /**
   * Deals with one sign: the cheap suspect first more often than not, the true cause once that has failed.
   *
   * @returns false where it is put off to another day.
   */
  private deal(showing: Showing, { day, km }: Visit, done: Set<string>): boolean {
    const suspects = showing.causes.map((cause) => cause.component)
    if (suspects.some((c) => done.has(c.weakPoint.key))) return true
    const grave = suspects.some((c) => c.weakPoint.severity === 'stop')
    if (!grave && this.random.chance(this.vehicle.habits.putsOff)) return false
    const text = signText(showing)
    const tries = this.triesBySign.get(text) ?? 0
    this.triesBySign.set(text, tries + 1)
    const blamed = this.blame(suspects, tries, grave, day, km)
    done.add(blamed.weakPoint.key)
    const falseAlarm = !suspects.some(isDeveloping)
    const alike = suspects.filter((c) => c.weakPoint === blamed.weakPoint)
    if (falseAlarm && (grave || this.random.chance(0.6))) this.bench.inspect(alike, day, km)
    else this.bench.mend(blamed, day, km, 'sign')
    return true
  }

  private blame(suspects: Component[], tries: number, grave: boolean, day: number, km: number): Component {
    const careful = tries > 0 || grave
    if (this.senses.hasTestFor(suspects) && (careful || this.random.chance(0.4))) {
      this.scribe.check('measure', day, km, this.senses.look('measure', day).map(signText))
    }
    const guilty = suspects.filter(isDeveloping)
    if (guilty.length === 0 || !this.random.chance(careful ? 0.95 : 0.7)) return cheapest(suspects)
    return guilty.find(hasFailed) ?? this.random.pick(guilty)
  }

  private scheduled(day: number, km: number, done: Set<string>): void {
    const { serviceEveryKm, lateness } = this.vehicle
    for (const weakPoint of new Set(this.bench.components.map((c) => c.weakPoint))) {
      if (!weakPoint.renewEvery || done.has(weakPoint.key)) continue
      const parts = this.bench.components.filter((c) => c.weakPoint === weakPoint)
      const oldest = Math.max(...parts.map((c) => c.life.sinceRenewal))
      if (oldest > weakPoint.renewEvery * lateness - serviceEveryKm / 2)
        this.bench.renew(parts, day, km, 'schedule')
    }
  }
}

const cheapest = (suspects: Component[]): Component =>
  suspects.reduce((a, b) => (b.weakPoint.cost.parts < a.weakPoint.cost.parts ? b : a))

export function writeOtherWork(scribe: Scribe, day: number, km: number, random: Random): void {
  scribe.repair(day, km, {
    weak_point: 'other',
    positions: '',
    action: 'renew',
    found: null,
    because: null,
    parts_cost: random.whole(20, 380),
    labour_hours: random.whole(5, 35) / 10,
    note: random.pick(OTHER_WORK),
  })
}
