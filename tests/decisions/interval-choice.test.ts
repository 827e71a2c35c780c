import { describe, expect, it } from 'vitest'
import { chooseInterval, type IntervalChoice } from '@/lib/decisions/interval-choice'
import { seeded } from '../simulation/random'
import { drawOnset } from '../simulation/two-stage'

const PUMP = { shape: 3, scale: 150_000, pfMean: 8_000 }
const COST = { planned: 300, unplanned: 1_500 }
const USE = { ageing: 1, parts: 40, perYear: 20_000 }

function chosen(change: { life?: object; cost?: object; use?: object } = {}) {
  const choice = chooseInterval(
    { ...PUMP, ...change.life },
    { ...COST, ...change.cost },
    { ...USE, ...change.use },
  )
  if (!choice.ok) throw new Error(choice.reason)
  return choice
}

const least = ({ outcomes }: Extract<IntervalChoice, { ok: true }>) =>
  outcomes.reduce((best, each) => (each.rate < best.rate ? each : best))

describe('the best interval', () => {
  it('is the cheapest of all that are shown, and within the flat stretch', () => {
    const choice = chosen()
    expect(choice.best.rate).toBeLessThanOrEqual(least(choice).rate)
    expect(Math.abs(least(choice).interval - choice.best.interval)).toBeLessThan(10_000)
    expect(choice.flat.low).toBeLessThan(choice.best.interval)
    expect(choice.flat.high).toBeGreaterThan(choice.best.interval)
    for (const end of [choice.flat.low, choice.flat.high])
      expect(choice.at(end).rate / choice.best.rate).toBeCloseTo(1.05, 4)
  })

  it('is running to failure where a breakdown costs no more, or parts do not wear', () => {
    for (const choice of [chosen({ cost: { unplanned: 300 } }), chosen({ life: { shape: 1, pfMean: 0 } })]) {
      expect(choice.best.interval).toBe(Number.POSITIVE_INFINITY)
      expect(choice.best).toEqual(choice.toFailure)
      expect(choice.outcomes.every(({ rate }) => rate >= choice.best.rate * (1 - 1e-9))).toBe(true)
    }
  })

  it('comes sooner by as much as driving ages the part faster, at a cost higher by as much', () => {
    const [mixed, short] = [chosen(), chosen({ use: { ageing: 1.25 } })]
    expect(short.best.interval).toBeCloseTo(mixed.best.interval / 1.25, 6)
    expect(short.best.rate).toBeCloseTo(mixed.best.rate * 1.25, 10)
  })

  it('cannot be said without a price, or of no life', () => {
    expect(chooseInterval(PUMP, { planned: 0, unplanned: 900 }, USE)).toEqual({
      ok: false,
      reason: 'no-price',
    })
    expect(chooseInterval({ ...PUMP, shape: Number.NaN }, COST, USE)).toMatchObject({ ok: false })
  })
})

it.each([60_000, 110_000, Number.POSITIVE_INFINITY])(
  'every %d km: as many fail and as much is spent as in a workshop that does it',
  (interval) => {
    const { at } = chosen()
    const counted = workshop(interval, 60_000)
    const yearly = USE.parts * USE.perYear
    expect(at(interval).failuresPerYear / (counted.failures * yearly)).toBeCloseTo(1, 1)
    expect(at(interval).replacedPerYear).toBeCloseTo(counted.replaced * yearly, 0)
    expect(at(interval).rate / counted.money).toBeCloseTo(1, 1)
  },
)

/** So many parts one after another, each replaced at the interval or when it fails; all a km. */
function workshop(interval: number, parts: number) {
  const random = seeded(11)
  let [km, failures, replaced] = [0, 0, 0]
  for (let i = 0; i < parts; i++) {
    const failsAt = drawOnset(PUMP, 0, random) + random.exponential(PUMP.pfMean)
    km += Math.min(failsAt, interval)
    if (failsAt <= interval) failures++
    else replaced++
  }
  const money = (failures * COST.unplanned + replaced * COST.planned) / km
  return { failures: failures / km, replaced: replaced / km, money }
}
