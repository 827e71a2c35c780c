/** Which looks to make in so many hours, and how they make rounds. */
import { LOOK_KINDS, type LookKind } from './advice'

/** A look that could be made, at one vehicle. */
export interface PossibleLook {
  unit: string
  site: string | null
  kind: LookKind
  /** Expected saving, net of its price. */
  worth: number
  hours: number
}

export interface LooksWithin<Look> {
  looks: Look[]
  hours: number
  worth: number
  /** No choice within the hours is worth more. */
  bound: number
}

/** Hours as people type them are no exact numbers. */
const CLOSE = 1e-9

/**
 * The looks to make first in so many hours: by worth an hour, and what still fits. The bound takes a part of the first
 * look that did not fit (Dantzig 1957, Operations Research 5, 266–288); what is given away is less than that look is worth.
 */
export function looksWithin<Look extends PossibleLook>(
  all: readonly Look[],
  hours: number,
): LooksWithin<Look> {
  const looks: Look[] = []
  let [left, cut, bound] = [hours, false, 0]
  for (const look of [...all].sort(byWorthAnHour)) {
    const fits = look.hours <= left + CLOSE
    if (!cut) bound += fits ? look.worth : (look.worth * Math.max(left, 0)) / look.hours
    cut ||= !fits
    if (!fits) continue
    looks.push(look)
    left -= look.hours
  }
  return { looks, hours: sum(looks, 'hours'), worth: sum(looks, 'worth'), bound }
}

const anHour = ({ worth, hours }: PossibleLook) => (hours > 0 ? worth / hours : Number.POSITIVE_INFINITY)

function byWorthAnHour(a: PossibleLook, b: PossibleLook): number {
  const [ofA, ofB] = [anHour(a), anHour(b)]
  return ofA === ofB ? b.worth - a.worth : ofB - ofA
}

/** Looks of one kind at one site, made one after the other. */
export interface WalkRound<Look> {
  site: string | null
  kind: LookKind
  /** The most worth first. */
  looks: Look[]
  hours: number
  worth: number
}

/** All looks as rounds, that of the most worth first; the vehicles that have no site are a round of their own. */
export function walkRounds<Look extends PossibleLook>(all: readonly Look[]): WalkRound<Look>[] {
  const sites = [...new Set(all.map(({ site }) => site))]
  const rounds = sites.flatMap((site) =>
    LOOK_KINDS.map((kind) => {
      const looks = all
        .filter((look) => look.site === site && look.kind === kind)
        .sort((a, b) => b.worth - a.worth)
      return { site, kind, looks, hours: sum(looks, 'hours'), worth: sum(looks, 'worth') }
    }),
  )
  return rounds.filter(({ looks }) => looks.length > 0).sort((a, b) => b.worth - a.worth)
}

const sum = (looks: readonly PossibleLook[], of: 'hours' | 'worth') =>
  looks.reduce((total, look) => total + look[of], 0)
