import { describe, expect, it } from 'vitest'
import { compileEngine } from '@/lib/scoring/engine-plan'
import { type Look, LookWindows } from '@/lib/scoring/looks'
import { engine, point, sign } from './one-vehicle'

const library = engine(
  [point('valve', 80_000, 140_000, 9_000), point('hose', 80_000, 140_000, 9_000)],
  [
    sign('flow', 'code', { valve: 0.8 }, { codes: ['P0401'], lamp: true }),
    sign('hiss', 'road', { hose: 0.5 }),
    sign('boost', 'code', { hose: 0.5 }, { codes: ['P0299'], lamp: true }),
  ],
)
const plan = compileEngine(library.families[0]!, null, true)
const signAt = (key: string) => plan.sighting(key, null)!
const [FLOW, BOOST, LAMP] = [signAt('flow'), signAt('boost'), signAt('lamp-on')]
const VALVE = plan.components.findIndex((c) => c.weakPoint.key === 'valve')
const HOSE = plan.components.findIndex((c) => c.weakPoint.key === 'hose')

const look = (day: number, km: number, more: Partial<Look> = {}): Look => ({
  day,
  km,
  seen: [],
  lookedFor: [],
  share: 1,
  permanent: false,
  clearedOn: null,
  ...more,
})
const seen = (day: number, km: number, more: Partial<Look> = {}) => look(day, km, { seen: [FLOW], ...more })
const silent = (day: number, km: number, more: Partial<Look> = {}) =>
  look(day, km, { lookedFor: [FLOW], ...more })

/** What counts of each look in turn: `+` seen, `-` not seen, `.` nothing new; `R` before it repairs the valve. */
function counted(...looks: (Look | 'repair the valve' | 'repair the hose')[]): string {
  const windows = new LookWindows(plan)
  return looks
    .map((each) => {
      if (typeof each === 'string') {
        windows.repaired(each === 'repair the valve' ? VALVE : HOSE)
        return 'R'
      }
      const findings = windows.take(each, () => false)
      return findings.map((f) => (f.seen ? '+' : '-')).join('') || '.'
    })
    .join('')
}

describe('a window of a sign', () => {
  it('lets the first result count and takes repeats for no news', () => {
    expect(counted(seen(0, 0), seen(10, 500), seen(29, 1_499))).toBe('+..')
    expect(counted(silent(0, 0), silent(10, 500))).toBe('-.')
  })

  it('ends after 30 days or 1,500 km, whichever comes first', () => {
    expect(counted(seen(0, 0), seen(30, 100))).toBe('++')
    expect(counted(seen(0, 0), seen(1, 1_500))).toBe('++')
  })

  it('begins with its first look, so that repeats do not prolong it', () => {
    expect(counted(seen(0, 0), seen(20, 100), seen(31, 200))).toBe('+.+')
  })

  it('opens anew where the sign was absent and is then seen, but not the other way round', () => {
    expect(counted(silent(0, 0), seen(5, 100), silent(8, 200))).toBe('-+.')
    expect(counted(silent(0, 0), seen(5, 100), seen(31, 1_000))).toBe('-+.')
    expect(counted(silent(0, 0), seen(5, 100), seen(36, 1_000))).toBe('-++')
  })

  it('ends at a repair of a part that causes it, and at no other', () => {
    expect(counted(seen(0, 0), 'repair the valve', seen(1, 50))).toBe('+R+')
    expect(counted(seen(0, 0), 'repair the hose', seen(1, 50))).toBe('+R.')
  })

  it('ends when the code was cleared: what is seen later is new, what is seen that day is not', () => {
    expect(counted(seen(0, 0, { clearedOn: 2 }), seen(2, 50), seen(3, 60))).toBe('+.+')
    expect(counted(seen(0, 0), seen(2, 50, { clearedOn: 2 }), seen(3, 60))).toBe('+.+')
  })

  it('does not end by a clearing from before the sighting', () => {
    expect(counted(seen(10, 0, { clearedOn: 5 }), seen(12, 50), seen(13, 60))).toBe('+..')
  })
})

describe('a permanent code', () => {
  const permanent = (day: number, km: number) => seen(day, km, { permanent: true })

  it('is the same sighting again, however much later', () => {
    expect(counted(seen(0, 0), permanent(200, 9_000))).toBe('+.')
    expect(counted(permanent(0, 0), permanent(200, 9_000))).toBe('+.')
  })

  it('counts where the sign was not seen since the last repair of a part that causes it', () => {
    expect(counted(seen(0, 0), 'repair the valve', permanent(200, 9_000))).toBe('+R+')
    expect(counted(seen(0, 0), 'repair the hose', permanent(200, 9_000))).toBe('+R.')
  })
})

describe('silence after codes were cleared', () => {
  it('counts in the share of the distance since, and not at all at once', () => {
    const windows = new LookWindows(plan)
    expect(windows.take(silent(0, 0, { share: 0 }), () => false)).toEqual([])
    expect(windows.take(silent(0, 0, { share: 0.25 }), () => false)).toEqual([
      { sign: FLOW, seen: false, share: 0.25 },
    ])
  })

  it('leaves a full scan soon after to count in full', () => {
    expect(counted(silent(0, 0, { share: 0 }), silent(3, 400))).toBe('.-')
    expect(counted(silent(0, 0, { share: 0.3 }), silent(3, 400))).toBe('--')
  })

  it('does not add up over scans that say no more', () => {
    const nearly = (day: number) => silent(day, 10 * day, { share: 0.9 })
    expect(counted(nearly(0), nearly(1), nearly(2))).toBe('-..')
    expect(counted(silent(0, 0), nearly(1))).toBe('-.')
  })

  it('leaves a look worth taking until it counted in full', () => {
    const windows = new LookWindows(plan)
    windows.take(silent(0, 0, { share: 0.5 }), () => false)
    expect(windows.isOpen(FLOW, { day: 1, km: 10 })).toBe(false)
    windows.take(silent(1, 10), () => false)
    expect(windows.isOpen(FLOW, { day: 2, km: 20 })).toBe(true)
  })
})

describe('the lamp that nobody has read', () => {
  const lamp = (day: number, km: number) => look(day, km, { seen: [LAMP] })

  it('is no news while the sign that lit it is known', () => {
    expect(counted(seen(0, 0), lamp(5, 100))).toBe('+.')
    expect(counted(seen(0, 0), lamp(31, 100))).toBe('++')
  })

  it('gives way to a reading that follows within its window', () => {
    const windows = new LookWindows(plan)
    expect(windows.take(lamp(0, 0), (members) => members.includes(FLOW))).toEqual([])
    expect(windows.take(seen(3, 100), () => false)).toEqual([{ sign: FLOW, seen: true, share: 1 }])
  })

  it('counts once beside what was read at the same check, in whatever order they are written down', () => {
    expect(counted(look(0, 0, { seen: [FLOW, LAMP] }))).toBe('+')
    expect(counted(look(0, 0, { seen: [LAMP, FLOW] }))).toBe('+')
  })

  it('stands for every sign that lights it and for no other', () => {
    expect([...plan.signs[LAMP]!.members].sort()).toEqual([FLOW, BOOST].sort())
  })
})
