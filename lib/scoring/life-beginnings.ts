/** How the components of one vehicle begin their lives: as it came, renewed, through a stretch without records. */
import { copyStrands, type Strands } from '@/lib/model/strands'
import type { RepairRow } from '@/lib/records/rows'
import type { Day } from '@/lib/units/dates'
import type { ComponentBelief, LifeBeginning } from './component-belief'
import type { EnginePlan } from './engine-plan'
import type { LifeLog } from './life-log'
import { lifeThroughGap, originalLife, partialLife, renewedLife } from './life-start'
import { NodeLives } from './node-lives'
import type { LifeNodes, Parameters } from './parameters'
import { unknownLife } from './unknown-history'
import type { ClockReading } from './vehicle-belief'

/** Ages that a part of unknown history may have: at the central parameters, and at each of the nodes. */
const CENTRAL_AGES = 8
const NODE_AGES = 3

type Began = { central: Strands; lives: NodeLives }

export class LifeBeginnings {
  /** Lives that the positions of a weak point begin alike, by weak point, at the present moment. */
  private readonly alike = new Map<string, Began>()

  /** @param log where the lives are written down, if anywhere */
  constructor(
    private readonly plan: EnginePlan,
    private readonly parameters: Parameters,
    private readonly beliefs: readonly ComponentBelief[],
    private readonly log: LifeLog | null,
  ) {}

  /** What begins from now on does not begin at the moment of what began before. */
  nextMoment(): void {
    this.alike.clear()
  }

  original(component: number, at: ClockReading): void {
    const life = this.life(component, null)
    const beginning = this.beginning('original', component, at, null)
    this.beginAlike(component, beginning, () => ({
      central: originalLife(life.central),
      nodes: originalLife(life.nodes),
    }))
    this.beliefs[component]!.renewedAt = beginning.clock
    this.log?.begins(component, 0, 0, { revision: null })
  }

  /** @param age how far and long the engine had run by then */
  unknown(component: number, age: ClockReading, day: Day): void {
    const beginning = this.beginning('unknown', component, { ...age, time: day }, null)
    this.beginAlike(component, beginning, () => this.unknownLifeOf(component, age))
    this.beliefs[component]!.renewedAt = null
    this.log?.beginsUnknown(component)
  }

  /** After a renewal, a quick fix or a partial repair. */
  repaired(component: number, repair: RepairRow, at: ClockReading): void {
    if (repair.action === 'partial') this.partlyRestored(component, repair, at)
    else this.renewed(component, repair, at)
  }

  private renewed(component: number, repair: RepairRow, at: ClockReading): void {
    const belief = this.beliefs[component]!
    const { weakPoint } = belief.component
    const quickFixes = weakPoint.revisions.filter((r) => r.temporary)
    const temporary = repair.action === 'temporary' || quickFixes.some((r) => r.key === repair.revision)
    const revision = repair.revision ?? (temporary ? (quickFixes[0]?.key ?? null) : null)
    const life = this.life(component, revision)
    const beginning = this.beginning(temporary ? 'temporary' : 'renewed', component, at, revision)
    const { success } = weakPoint
    this.begin(component, renewedLife(life.central, success), renewedLife(life.nodes, success), beginning)
    if (!temporary) belief.renewedAt = beginning.clock
    this.log?.begins(component, 0, this.startsDeveloping(component), { revision, renewedBy: repair })
  }

  private partlyRestored(component: number, repair: RepairRow, at: ClockReading): void {
    const belief = this.beliefs[component]!
    const { success, restored: usual } = belief.component.weakPoint
    const restored = repair.restored ?? usual
    const { revision, how } = belief.beginning
    const part = (strands: Strands) => partialLife(strands, restored, success)
    const known = how !== 'unknown'
    const beginning = this.beginning('partial', component, at, revision)
    this.begin(component, part(belief.central), part(belief.currentNodes()), beginning)
    if (known)
      this.log?.begins(component, belief.central.age[0]!, this.startsDeveloping(component), { revision })
    else this.log?.beginsUnknown(component)
  }

  /**
   * Records are missing: a life goes on as one that may have been renewed unseen.
   *
   * @param step effective length of the stretch
   */
  throughGap(component: number, step: number): void {
    const belief = this.beliefs[component]!
    const through = (strands: Strands) => lifeThroughGap(strands, step, belief.component.weakPoint.success)
    const beginning: LifeBeginning = { ...belief.beginning, how: 'unknown' }
    this.log?.ends(component, 'open', belief.central.age[0]!)
    this.begin(component, through(belief.central), through(belief.currentNodes()), beginning)
    this.log?.beginsUnknown(component)
  }

  private begin(component: number, central: Strands, nodes: Strands, beginning: LifeBeginning): void {
    this.beliefs[component]!.begin(central, this.nodeLives(component, nodes, beginning), beginning)
  }

  /** Begins the life that all positions of the weak point begin at this moment. */
  private beginAlike(
    component: number,
    beginning: LifeBeginning,
    make: () => { central: Strands; nodes: Strands },
  ): void {
    const { key } = this.plan.components[component]!.weakPoint
    let life = this.alike.get(key)
    if (!life) {
      const { central, nodes } = make()
      life = { central, lives: this.nodeLives(component, nodes, beginning) }
      this.alike.set(key, life)
    }
    this.beliefs[component]!.begin(copyStrands(life.central), life.lives, beginning)
  }

  /** A life from which the parameters were learned does not weigh them again. */
  private nodeLives(component: number, nodes: Strands, { how, day }: LifeBeginning): NodeLives {
    const learnedUpTo = this.parameters.learnedUpTo(this.plan.components[component]!.weakPoint)
    return new NodeLives(nodes, learnedUpTo !== null && how !== 'unknown' && day <= learnedUpTo)
  }

  private unknownLifeOf(component: number, age: ClockReading): { central: Strands; nodes: Strands } {
    const { weakPoint } = this.plan.components[component]!
    const life = this.life(component, null)
    const engine = { age: age[weakPoint.clock], duty: this.beliefs[component]!.duty }
    const above = this.plan.linksTo[component]!.map((link) => ({
      strength: link.strength,
      life: this.life(link.from, null).central,
      age: age[this.plan.components[link.from]!.weakPoint.clock] * this.beliefs[link.from]!.duty,
    }))
    return {
      central: unknownLife(life.central, weakPoint, engine, above, CENTRAL_AGES),
      nodes: unknownLife(life.nodes, weakPoint, engine, above, NODE_AGES),
    }
  }

  private life(component: number, revision: string | null): LifeNodes {
    return this.parameters.of(this.plan.components[component]!.weakPoint, revision, this.plan.variant)
  }

  private beginning(
    how: LifeBeginning['how'],
    component: number,
    at: ClockReading,
    revision: string | null,
  ): LifeBeginning {
    return { how, day: at.time, clock: at[this.plan.components[component]!.weakPoint.clock], revision }
  }

  /** π of a renewed part; one that gives no warning cannot be developing. */
  private startsDeveloping(component: number): number {
    const { warning, success } = this.plan.components[component]!.weakPoint
    return warning > 0 ? 1 - success : 0
  }
}
