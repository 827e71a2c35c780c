/**
 * How long parts were seen to last, counted and without a model: until they failed or were found going, whichever
 * came first. Stands beside what was learned, so that the eye can hold one against the other.
 */
import type { FollowedTime } from '@/lib/model/followed-time'
import { lastingShare } from '@/lib/model/lasting-share'
import type { LivedLife } from '@/lib/model/lived-life'
import type { LifeFactor } from './life-ways'

/** Lives of one weak point by how they ended. Each is counted once. */
export interface ObservedEnds {
  failed: number
  /** Opened and found going. */
  developing: number
  sound: number
  /** Renewed, and nobody wrote down what was found. */
  renewed: number
  /** Still running, or lost from sight. */
  running: number
  /** Left out: nobody knows when they began. */
  unknownStart: number
  /** Left out: they ended before anybody kept records. */
  beforeWatch: number
}

export interface ObservedLife {
  ends: ObservedEnds
  /** Lives of original parts; null where too few were followed at any one age, or no estimate settled. */
  steps: ObservedSteps | null
  /** Lives with a revision or a variant, and how many of them failed or were found going. */
  byFactor: (Pick<LifeFactor, 'of' | 'key'> & { lives: number; gone: number })[]
}

/**
 * The share of original parts that had neither failed nor been found going by an age, among those that got to `from`.
 *
 * A part is found going some time after it began to go and, if at all, before it fails. So where findings are written
 * down the share lies between that of the parts that have not begun to go and that of those that have not failed; how
 * far from either depends on how soon a workshop notices. It is no estimate of the one or the other. Parts renewed
 * with nothing written down count as good until then, though some were renewed because they went: the share errs
 * upwards where that is common.
 */
export interface ObservedSteps {
  /** From this age on at least `LEAST_FOLLOWED` were followed; effective clock units. */
  from: number
  /** Until this age. */
  until: number
  lives: number
  gone: number
  /** [age, share that lasts beyond it, its standard error], by rising age; of the very many those that draw the same line. */
  shares: [number, number, number][]
}

/** Fewer at one age draw no line that is worth looking at. */
export const LEAST_FOLLOWED = 10
/** More steps cannot be told apart on a screen. */
const MOST_STEPS = 200

/**
 * Counts lives of one weak point.
 *
 * @param warns whether the weak point gives warning: else nothing can be found going
 * @param factors its revisions and variants, as the lives name them by their place
 */
export function observedLife(
  lives: readonly LivedLife[],
  leftOut: Pick<ObservedEnds, 'unknownStart' | 'beforeWatch'>,
  { warns, factors }: { warns: boolean; factors: readonly Pick<LifeFactor, 'of' | 'key'>[] },
): ObservedLife {
  const times = lives.map(({ ways, ...life }) => ({ ways, time: followedTime(life, warns) }))
  const isOriginal = ({ ways }: Pick<LivedLife, 'ways'>) =>
    ways.every((way) => way.factors.every((f) => factors[f]?.of === 'variant'))
  return {
    ends: { ...endsOf(lives), ...leftOut },
    steps: observedSteps(times.filter(isOriginal).map(({ time }) => time)),
    byFactor: factors.map(({ of, key }, f) => {
      const having = times.filter(({ ways }) => ways.every((way) => way.factors.includes(f)))
      return { of, key, lives: having.length, gone: having.filter(({ time }) => hasGone(time)).length }
    }),
  }
}

const hasGone = ({ by }: FollowedTime) => by < Number.POSITIVE_INFINITY

function endsOf(lives: readonly LivedLife[]): Omit<ObservedEnds, 'unknownStart' | 'beforeWatch'> {
  const ends = { failed: 0, developing: 0, sound: 0, renewed: 0, running: 0 }
  for (const { ending } of lives) {
    if (ending.kind === 'open') ends[ending.renewed ? 'renewed' : 'running']++
    else if (ending.kind === 'sound') ends.sound++
    else ends[ending.kind === 'failed' || ending.kind === 'failed-since' ? 'failed' : 'developing']++
  }
  return ends
}

/** When it failed or was found going, or that it had done neither while it was followed. */
function followedTime(
  { startAge, entry, looks, ending }: Omit<LivedLife, 'ways'>,
  warns: boolean,
): FollowedTime {
  const from = Math.max(startAge, entry?.age ?? 0)
  const foundGoing = warns ? looks.find(({ odds }) => odds === Number.POSITIVE_INFINITY) : undefined
  if (foundGoing) return knownTime(from, foundGoing.age)
  if (ending.kind === 'failed-since')
    return { entry: from, after: Math.max(from, ending.since), by: Math.max(from, ending.age) }
  const gone =
    ending.kind === 'failed' || (warns && (ending.kind === 'developing' || ending.kind === 'noticed'))
  if (gone) return knownTime(from, ending.age)
  return { entry: from, after: Math.max(from, ending.age), by: Number.POSITIVE_INFINITY }
}

const knownTime = (entry: number, age: number): FollowedTime => ({ entry, after: age, by: age })

function observedSteps(times: readonly FollowedTime[]): ObservedSteps | null {
  const thick = whereThick(times)
  if (!thick) return null
  const followed = times
    .filter(({ after, by }) => after > thick.from || (after === thick.from && by > after))
    .map((time) => ({ ...time, entry: Math.max(time.entry, thick.from) }))
  const share = lastingShare(followed)
  if (!share.ok) return null
  const steps = share.steps.filter(({ age }) => age <= thick.until)
  return {
    ...thick,
    lives: followed.length,
    gone: followed.filter(hasGone).length,
    shares: thinned(steps.map(({ age, lasts, error }) => [rounded(age), rounded(lasts), rounded(error)])),
  }
}

/** The first age by which enough are followed, and the last at which enough still are. */
function whereThick(times: readonly FollowedTime[]): Pick<ObservedSteps, 'from' | 'until'> | null {
  const changes = times
    .flatMap(({ entry, after, by }) => [
      { age: entry, change: 1 },
      { age: Math.max(after, by === Number.POSITIVE_INFINITY ? 0 : by), change: -1 },
    ])
    .sort((a, b) => a.age - b.age || b.change - a.change)
  let followed = 0
  let from: number | null = null
  let until = 0
  for (const { age, change } of changes) {
    if (followed >= LEAST_FOLLOWED) until = age
    followed += change
    if (followed >= LEAST_FOLLOWED) from ??= age
  }
  return from === null || until <= from ? null : { from: rounded(from), until: rounded(until) }
}

/** Those at which the share passes the next of so many even parts of its way. */
function thinned(shares: ObservedSteps['shares']): ObservedSteps['shares'] {
  if (shares.length <= MOST_STEPS) return shares
  const part = (1 - shares.at(-1)![1]) / (MOST_STEPS - 1)
  let kept = 1
  return shares.filter(([, lasts], i) => {
    if (i < shares.length - 1 && kept - lasts < part) return false
    kept = lasts
    return true
  })
}

/** Six digits are more than these counts hold. */
const rounded = (value: number) => Number(value.toPrecision(6))
