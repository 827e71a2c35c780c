import { describe, expect, it } from 'vitest'
import { allOf, readTypedComplaint, readTypedNoticed } from '@/lib/intake/typed-complaint'
import { engine, point, sign } from '../scoring/one-vehicle'

const { families } = engine(
  [point('coil', 90_000, 160_000, 3_000, { positions: 4 }), point('hose', 90_000, 160_000, 3_000)],
  [
    sign('misfire', 'code', { coil: 0.6 }, { codes: ['P030#'] }),
    sign('shudder', 'road', { coil: 0.5 }, { positions: 4 }),
    sign('whistle', 'road', { hose: 0.5 }),
  ],
)
const key = families[0]!.key
const said = { unit: 'X-1', family: key, odometer: '84 210', seen: [], notSeen: [], codes: '' }
const read = (more: object) =>
  readTypedComplaint({ ...said, ...more }, { families, today: 20_000, distance: 'km' })

describe('what is said of a vehicle without records', () => {
  it('is a vehicle watched from today on, with a reading, a look and codes', () => {
    const complaint = read({ seen: ['shudder@2', 'lamp-on'], notSeen: ['whistle'], codes: 'P0302' })
    if (!complaint.ok) throw new Error(complaint.slips[0]?.message)
    const { vehicles, readings, checks, codes } = complaint.records
    expect(vehicles).toMatchObject([
      { unit: 'X-1', history: 'none', watchedFromKm: 84_210, watchedFromOn: 20_000 },
    ])
    expect(readings).toMatchObject([{ odometerKm: 84_210, readOn: 20_000 }])
    expect(codes).toMatchObject([{ code: 'P0302' }])
    expect(checks).toMatchObject([
      { kind: 'road', seen: [{ sign: 'shudder', position: 2 }] },
      { kind: 'report', seen: [{ sign: 'lamp-on' }] },
    ])
    expect(checks[0]?.lookedFor?.map((each) => each.sign)).toEqual(['shudder', 'whistle'])
  })

  it('is read for a vehicle that is kept as well, and nothing noticed is no entry', () => {
    const ground = { family: families[0]!, today: 20_000, distance: 'km' as const }
    const noticed = allOf(readTypedNoticed({ ...said, seen: ['whistle'], codes: 'P0301' }, ground))
    if (!noticed.ok) throw new Error(noticed.slips[0]?.message)
    expect(noticed.records.vehicles).toEqual([])
    expect(noticed.records.checks).toMatchObject([{ seen: [{ sign: 'whistle' }] }])
    expect(noticed.records.codes).toMatchObject([{ code: 'P0301' }])
    expect(readTypedNoticed(said, ground)).toEqual([])
    expect(allOf(readTypedNoticed({ ...said, codes: 'hello' }, ground))).toMatchObject({ ok: false })
  })

  it('says what is missing: an engine of the library, what it has run, a code that can be read', () => {
    const slipOf = (more: object) => {
      const complaint = read(more)
      return complaint.ok ? null : complaint.slips[0]?.field
    }
    expect(slipOf({ family: 'no-such' })).toBe('family')
    expect(slipOf({ odometer: ' ' })).toBe('odometer')
    expect(slipOf({ codes: 'hello' })).toBe('codes')
    expect(slipOf({ seen: ['whistle'] })).toBeNull()
  })
})
