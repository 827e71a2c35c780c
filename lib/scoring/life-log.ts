/** The lives of one vehicle's components as a fit needs them, written down while the vehicle is followed. */
import type { LifeEnding, LifeEntry, LifeLook, LivedLife } from '@/lib/model/lived-life'
import type { RepairRow } from '@/lib/records/rows'
import type { EnginePlan } from './engine-plan'
import { lifeWays, presentWays } from './life-ways'
import type { Finding } from './looks'

/** Looks that move the odds by less than this share tell a fit nothing. */
const NEGLIGIBLE_ODDS = 0.02

/** A life at the looks for signs that it could show. */
export interface LookedAtLife {
  component: number
  revision: string | null
  /** The repair that put the part in; null for one that came with the engine, or was restored in part. */
  renewedBy: RepairRow | null
  /** Ages at which somebody looked, each once. */
  ages: number[]
  /** Signs that were not seen, and at which of the ages: two lists side by side, for there are very many. */
  missed: number[]
  missedAt: number[]
  /** The whole of it, once it is over; null where it ended before the watch. */
  lived: LivedLife | null
}

/** A sign that was seen, or whose silence counts only in part, and what could have shown it. */
export interface SignLook {
  finding: Finding
  causes: {
    component: number
    /** P(developing) as believed after the look. */
    believed: number
    /** Null where its beginning is not known, or it is over. */
    life: LookedAtLife | null
    /** The look's place among the ages of its life. */
    at: number
  }[]
}

/** What looks for signs found: lives with what they did not show, the other looks one by one, silences by sign. */
export interface LooksForSigns {
  lookedAt: LookedAtLife[]
  signLooks: SignLook[]
  silent: number[]
}

/** A life that has begun. */
interface OpenLife {
  lookedAt: LookedAtLife
  startAge: number
  developing: number
  entry: LifeEntry | null
  looks: LifeLook[]
  ways: LivedLife['ways']
  /** Its age when somebody last looked at it. */
  lastLook: number
}

export class LifeLog {
  /** Lives that a fit can learn from, by component. */
  readonly lives: LivedLife[][]
  /** Lives that it cannot: of unknown beginning, or ended before the watch. */
  readonly leftOut: number[]
  /** Those of the latter that began when somebody knew. */
  readonly beforeWatch: number[]
  readonly lookedAt: LookedAtLife[] = []
  readonly signLooks: SignLook[] = []
  readonly silent: number[]
  private readonly open: (OpenLife | 'unknown' | null)[]
  private watched: boolean

  /** @param fromNew whether the vehicle was watched from its first day */
  constructor(
    private readonly plan: EnginePlan,
    fromNew: boolean,
  ) {
    this.lives = plan.components.map(() => [])
    this.leftOut = plan.components.map(() => 0)
    this.silent = plan.signs.map(() => 0)
    this.beforeWatch = plan.components.map(() => 0)
    this.open = plan.components.map(() => null)
    this.watched = fromNew
  }

  /**
   * A life begins.
   *
   * @param startAge effective age at which it does
   * @param developing the chance that it does with a defect already there
   * @param renewedBy the repair that put the part in, if one did
   */
  begins(
    component: number,
    startAge: number,
    developing: number,
    { revision, renewedBy = null }: { revision: string | null; renewedBy?: RepairRow | null },
  ): void {
    const { family, variant, components } = this.plan
    const ways = presentWays(lifeWays(family, components[component]!.weakPoint, revision, variant))
    this.open[component] = {
      startAge,
      developing,
      entry: null,
      looks: [],
      ways,
      lastLook: startAge,
      lookedAt: { component, revision, renewedBy, ages: [], missed: [], missedAt: [], lived: null },
    }
  }

  /** A life of unknown age begins. */
  beginsUnknown(component: number): void {
    this.open[component] = 'unknown'
  }

  /** The watch begins: nobody recorded what a life did before. */
  watchBegins(component: number, age: number): void {
    this.watched = true
    const life = this.open[component]
    if (!isKnown(life)) return
    life.entry = { age, sound: false }
    life.lastLook = age
  }

  /** What a look told of the component, as a factor on the odds of developing (0: found sound; ∞: found developing). */
  heard(component: number, age: number, odds: number): void {
    const life = this.open[component]
    if (!isKnown(life) || Math.abs(odds - 1) < NEGLIGIBLE_ODDS) return
    // News of what lies upstream can make a part younger than it was thought to be at its last look.
    life.looks.push({ age: Math.max(age, life.looks.at(-1)?.age ?? 0), odds })
  }

  /** Somebody looked for its signs, or at it. */
  wasLookedAt(component: number, age: number): void {
    const life = this.open[component]
    if (!isKnown(life)) return
    life.lastLook = age
    const { ages } = life.lookedAt
    if (this.watched && age !== ages.at(-1)) ages.push(Math.max(age, ages.at(-1) ?? 0))
  }

  /**
   * A sign was looked for.
   *
   * @param ageOf age of a component
   * @param believed P(developing) of a component, as believed after the look
   */
  lookedFor(
    finding: Finding,
    ageOf: (component: number) => number,
    believed: (component: number) => number,
  ): void {
    const { causes } = this.plan.signs[finding.sign]!
    for (const { component } of causes) this.wasLookedAt(component, ageOf(component))
    if (!this.watched) return
    if (finding.seen || finding.share < 1) {
      const about = causes.map(({ component }) => {
        const life = this.lifeOf(component)
        return { component, believed: believed(component), life, at: (life?.ages.length ?? 0) - 1 }
      })
      this.signLooks.push({ finding, causes: about })
      return
    }
    this.silent[finding.sign]!++
    for (const { component } of causes) {
      const life = this.lifeOf(component)
      life?.missed.push(finding.sign)
      life?.missedAt.push(life.ages.length - 1)
    }
  }

  private lifeOf(component: number): LookedAtLife | null {
    const open = this.open[component]
    return isKnown(open) ? open.lookedAt : null
  }

  /**
   * The life ends; a failure that was found late happened since somebody last looked.
   *
   * @param renewed whether one that ends in no known state ends because the part was renewed
   */
  ends(component: number, kind: LifeEnding['kind'], age: number, renewed = false): void {
    const life = this.open[component]
    this.open[component] = null
    if (life === null || life === undefined) return
    if (life === 'unknown' || !this.watched) {
      this.leftOut[component]!++
      if (life !== 'unknown') this.beforeWatch[component]!++
      return
    }
    const at = Math.max(age, life.looks.at(-1)?.age ?? 0, life.entry?.age ?? 0, life.startAge)
    const ending = endingAt(kind, at, { since: Math.min(life.lastLook, at), renewed })
    const { startAge, developing, ways } = life
    const lived = { startAge, developing, ways, ending, ...seenFromEntry(life) }
    life.lookedAt.lived = lived
    this.lookedAt.push(life.lookedAt)
    this.lives[component]!.push(lived)
  }
}

const isKnown = (life: OpenLife | 'unknown' | null | undefined): life is OpenLife =>
  life !== null && life !== undefined && life !== 'unknown'

function endingAt(
  kind: LifeEnding['kind'],
  age: number,
  { since, renewed }: { since: number; renewed: boolean },
): LifeEnding {
  if (kind === 'failed-since') return { kind, age, since }
  return kind === 'open' && renewed ? { kind, age, renewed } : { kind, age }
}

/** Found sound on the day on which the watch began: then it starts there, sound. */
function seenFromEntry({ entry, looks }: OpenLife): Pick<LivedLife, 'entry' | 'looks'> {
  if (entry === null) return { entry, looks }
  const since = looks.filter((look) => look.age >= entry.age)
  const sound = since.some((look) => look.odds === 0 && look.age === entry.age)
  return { entry: { ...entry, sound }, looks: sound ? since.filter((look) => look.age > entry.age) : since }
}
