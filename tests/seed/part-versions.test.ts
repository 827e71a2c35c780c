import { expect, test } from 'vitest'
import { groupByVehicle } from '@/lib/records/vehicle-records'
import { odometerOf } from '@/lib/scoring/fleet-vehicles'
import { type OrganisationKey, TODAY, takeIn } from './take-in'

type Tally = { lives: number; failures: number; km: number }

/** What every ignition coil on record has run, by part version, from the first odometer on record. */
function coilsOf(key: OrganisationKey): { original: Tally; mk2: Tally; batches: Set<string> } {
  const { records, library } = takeIn(key, TODAY)
  const none = (): Tally => ({ lives: 0, failures: 0, km: 0 })
  const [original, mk2] = [none(), none()]
  const batches = new Set<string>()
  for (const one of groupByVehicle(records)) {
    const family = library.families.find((f) => f.key === one.vehicle.family)
    const positions = family?.weakPoints.find((w) => w.key === 'ignition-coil')?.positions ?? 0
    const { km } = odometerOf(one, TODAY).trusted
    const renewals = one.repairs.filter((r) => r.weakPoint === 'ignition-coil' && r.action === 'renew')
    for (const { batch } of renewals) if (batch) batches.add(batch)
    for (let position = 1; position <= positions; position++) {
      let [begunKm, version] = [km[0] ?? 0, original]
      for (const renewal of renewals) {
        if (renewal.odometerKm === null || !renewal.positions.includes(position)) continue
        version.lives += 1
        version.km += renewal.odometerKm - begunKm
        if (renewal.found === 'failed' || renewal.found === 'developing') version.failures += 1
        begunKm = renewal.odometerKm
        version = renewal.revision === 'mk2' ? mk2 : original
      }
      version.lives += 1
      version.km += Math.max(0, (km.at(-1) ?? 0) - begunKm)
    }
  }
  return { original, mk2, batches }
}

test.each(['tussock-and-sedge', 'crowberry-and-ling'] as const)(
  '%s: the new coil version lasts at least half as long again per failure as the original',
  (key) => {
    const { original, mk2, batches } = coilsOf(key)
    expect(original.failures).toBeGreaterThan(50)
    expect(mk2.km / (mk2.failures + 1)).toBeGreaterThan((1.5 * original.km) / original.failures)
    expect(batches).toContain('K7')
  },
)

test('a dealer parts with its vehicles too soon to tell versions apart, but knows which are fitted', () => {
  const { mk2, batches } = coilsOf('glasswort-and-thrift')
  expect(mk2.lives).toBeGreaterThan(30)
  expect(mk2.km / mk2.lives).toBeLessThan(15_000)
  expect(batches).toContain('K7')
})
