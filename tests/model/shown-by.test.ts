import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { withoutSighting } from '@/lib/model/shown-by'

type Cause = { developing: number; detect: number }

/** Every state of the causes with every way in which they and the leak may have fired: P(seen), and given that. */
function enumerate(causes: readonly Cause[], leak: number) {
  const seen = { all: 0, leaked: 0, developing: causes.map(() => 0), shown: causes.map(() => 0) }
  const ways = 2 ** (2 * causes.length + 1)
  for (let way = 0; way < ways; way++) {
    const is = (bit: number) => ((way >> bit) & 1) === 1
    let chance = is(0) ? leak : 1 - leak
    causes.forEach(({ developing, detect }, i) => {
      const [develops, fires] = [is(1 + 2 * i), is(2 + 2 * i)]
      chance *= develops ? developing * (fires ? detect : 1 - detect) : fires ? 0 : 1 - developing
    })
    if (!(is(0) || causes.some((_, i) => is(2 + 2 * i)))) continue
    seen.all += chance
    if (is(0)) seen.leaked += chance
    causes.forEach((_, i) => {
      if (is(1 + 2 * i)) seen.developing[i]! += chance
      if (is(2 + 2 * i)) seen.shown[i]! += chance
    })
  }
  return seen
}

const share = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const some = fc.array(fc.record({ developing: share(0.001, 0.999), detect: share(0.02, 0.98) }), {
  minLength: 1,
  maxLength: 4,
})

describe('which cause showed a sign', () => {
  it('is what an enumeration of all states and firings says, from what is believed in the end', () => {
    fc.assert(
      fc.property(some, share(0.001, 0.2), (causes, leak) => {
        const all = enumerate(causes, leak)
        const detect = causes.map((cause) => cause.detect)
        const found = withoutSighting(
          detect,
          all.developing.map((p) => p / all.all),
          leak,
        )
        expect(leak / found.seen).toBeCloseTo(all.leaked / all.all, 4)
        causes.forEach((cause, i) => {
          expect(found.developing[i]).toBeCloseTo(cause.developing, 4)
          expect((detect[i]! * found.developing[i]!) / found.seen).toBeCloseTo(all.shown[i]! / all.all, 4)
        })
      }),
    )
  })

  it.each([
    ['no leak, one cause that did not develop', [0.5], [0], 0],
    ['no leak, one cause that may have', [0.5], [0.7], 0],
    ['a cause that always shows it', [1, 0.4], [0.5, 0.5], 0.01],
    ['a cause that never does', [0, 0.4], [0.5, 0.5], 0.01],
    ['certainties', [0.3, 0.4], [1, 0], 0],
  ] as const)('stays a chance: %s', (_, detect, developing, leak) => {
    const found = withoutSighting(detect, developing, leak)
    expect(found.seen).toBeGreaterThan(0)
    expect(found.seen).toBeLessThanOrEqual(1)
    for (const p of found.developing) {
      expect(p).toBeGreaterThanOrEqual(0)
      expect(p).toBeLessThanOrEqual(1)
    }
  })
})
