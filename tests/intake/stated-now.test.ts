import { describe, expect, test } from 'vitest'
import { EXAMPLE_FAMILY } from '@/lib/intake/example-family'
import { type FamilyDraft, keyFor, withWeakPoint } from '@/lib/intake/family-draft'
import { weakPointFrom } from '@/lib/intake/family-forms'
import { statedNow } from '@/lib/intake/stated-now'
import { parseDay } from '@/lib/units/dates'

const TYPED = {
  ...{ component: 'Water pump', p10: '60 000', p50: '120 000', warning: '5 000', confidence: 'hunch' },
  ...{ statedBy: '', statedOn: '', reviewBy: '' },
}
const EMPTY: FamilyDraft = { key: 'plover', cylinders: 4, weakPoints: [] }
const TODAY = parseDay('2026-03-01')!

function keep(draft: FamilyDraft, key: string | null, typed: Partial<typeof TYPED>, by: string): FamilyDraft {
  const fields = { ...TYPED, ...typed }
  const read = weakPointFrom(fields, 'km')
  if (!read.ok) throw new Error(read.errors[0]?.message)
  return statedNow(draft, withWeakPoint(draft, key, read.value), { typed: fields, by, today: TODAY })
}

const [first] = [keep(EMPTY, null, { reviewBy: '2027-03-01' }, 'A. Reed')]
const key = keyFor('Water pump', [])

describe('whose statement a weak point is', () => {
  test('whoever states or changes it, on the day, where nothing else is typed', () => {
    expect(first.weakPoints[0]).toMatchObject({
      ...{ statedBy: 'A. Reed', statedOn: '2026-03-01', reviewBy: '2027-03-01' },
    })
    const changed = keep(first, key, { p50: '130 000' }, 'B. Sedge')
    expect(changed.weakPoints[0]).toMatchObject({
      statedBy: 'B. Sedge',
      statedOn: '2026-03-01',
      reviewBy: null,
    })
    const named = keep(
      first,
      key,
      { p50: '130 000', statedBy: 'The night shift', statedOn: '2026-02-01' },
      'B. Sedge',
    )
    expect(named.weakPoints[0]).toMatchObject({ statedBy: 'The night shift', statedOn: '2026-02-01' })
  })

  test('stays whose it was where nothing but the day to look at it again is changed, and with the others', () => {
    const kept = keep(first, key, { reviewBy: '2028-01-01' }, 'B. Sedge')
    expect(kept.weakPoints[0]).toMatchObject({ statedBy: 'A. Reed', reviewBy: '2028-01-01' })
    const beside = keep({ ...EXAMPLE_FAMILY, key: 'example' }, null, {}, 'B. Sedge')
    expect(beside.weakPoints.map(({ statedBy = null }) => statedBy)).toEqual([
      ...EXAMPLE_FAMILY.weakPoints.map(() => null),
      'B. Sedge',
    ])
  })

  test('is refused at the field where a day is none', () => {
    const read = weakPointFrom({ ...TYPED, reviewBy: '31 June' }, 'km')
    expect(read).toMatchObject({ ok: false, errors: [{ field: 'reviewBy' }] })
  })
})
