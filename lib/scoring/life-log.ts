/** The lives of one vehicle's components as a fit needs them, written down while the vehicle is followed. */
import type { LifeEnding, LifeEntry, LifeLook, LivedLife } from '@/lib/model/lived-life'
import type { EnginePlan } from './engine-plan'
import { lifeWays, presentWays } from './life-ways'

/** Looks that move the odds by less than this share tell a fit nothing. */
const NEGLIGIBLE_ODDS = 0.02

/** A life that has begun. */
interface OpenLife {
  startAge: number
  developing: number
  entry: LifeEntry | null
  looks: LifeLook[]
  ways: LivedLife['ways']
  /** Its age when somebody last looked at it. */
  lookedAt: number
}

export class LifeLog {
  /** Lives that a fit can learn from, by component. */
  readonly lives: LivedLife[][]
  /** Lives that it cannot: of unknown beginning, or ended before the watch. */
  readonly leftOut: number[]
  /** Those of the latter that began when somebody knew. */
  readonly beforeWatch: number[]
  private readonly open: (OpenLife | 'unknown' | null)[]
  private watched: boolean

  /** @param fromNew whether the vehicle was watched from its first day */
  constructor(
    private readonly plan: EnginePlan,
    fromNew: boolean,
  ) {
    this.lives = plan.components.map(() => [])
    this.leftOut = plan.components.map(() => 0)
    this.beforeWatch = plan.components.map(() => 0)
    this.open = plan.components.map(() => null)
    this.watched = fromNew
  }

  /**
   * A life begins.
   *
   * @param startAge effective age at which it does
   * @param developing the chance that it does with a defect already there
   */
  begins(component: number, startAge: number, developing: number, revision: string | null): void {
    const { family, variant, components } = this.plan
    const ways = presentWays(lifeWays(family, components[component]!.weakPoint, revision, variant))
    this.open[component] = { startAge, developing, entry: null, looks: [], ways, lookedAt: startAge }
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
    life.lookedAt = age
  }

  /** What a look told of the component, as a factor on the odds of developing (0: found sound; ∞: found developing). */
  heard(component: number, age: number, odds: number): void {
    const life = this.open[component]
    if (!isKnown(life) || Math.abs(odds - 1) < NEGLIGIBLE_ODDS) return
    // News of what lies upstream can make a part younger than it was thought to be at its last look.
    life.looks.push({ age: Math.max(age, life.looks.at(-1)?.age ?? 0), odds })
  }

  /** Somebody looked for its signs, or at it. */
  lookedAt(component: number, age: number): void {
    const life = this.open[component]
    if (isKnown(life)) life.lookedAt = age
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
    const ending = endingAt(kind, at, { since: Math.min(life.lookedAt, at), renewed })
    const { startAge, developing, ways } = life
    this.lives[component]!.push({ startAge, developing, ways, ending, ...seenFromEntry(life) })
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
