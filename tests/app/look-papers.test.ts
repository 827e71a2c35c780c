/** The look sheet as a PDF, read back by a program that did not make it: one page, every sign with boxes, the cautions. */
import { expect, test } from 'vitest'
import { BOXES } from '@/app/(people)/looks/boxes'
import { lookSheetPaper } from '@/app/(people)/looks/look-sheet-paper'
import { papersAsPdf } from '@/app/(people)/paper/paper-pdf'
import { formatsFor } from '@/app/ui/formats'
import { CAUTION } from '@/app/ui/words'
import { signsToLookFor } from '@/lib/jobs/look-sheet'
import type { VehicleHead } from '@/lib/store/read/vehicle-head'
import { engine, point, sign } from '../scoring/one-vehicle'
import { readPdf } from './read-pdf'

const formats = formatsFor({ locale: 'en-GB', currency: 'EUR' }, 'km')
const CARE = 'Coolant is scalding when hot: let it cool.'
const library = engine(
  [point('pump', 90_000, 180_000, 8_000, { cautions: [CARE] })],
  [
    sign('below', 'visual', { pump: 0.5 }, { label: 'Damp below', zone: 'below', how: 'Torch from below.' }),
    sign('crust', 'visual', { pump: 0.5 }, { label: 'Crust in front', zone: 'front' }),
    sign('whine', 'road', { pump: 0.5 }, { label: 'Whines', positions: 4, stop: true }),
    sign('hot', 'code', { pump: 0.5 }, { codes: ['P0217'], label: 'Too hot' }),
  ],
)
const head = {
  ...{ unit: 'V-018', plate: 'AB 12', family: 'Dunlin', site: 'North yard', customer: null },
  score: { standing: 'stop', asOf: 20_500, odometerKm: 30_092 },
} as VehicleHead
const looks = signsToLookFor(library.families[0]!, ['front', 'below'], null)
const paper = lookSheetPaper({ head, kind: null, worth: [], ...looks }, 'Workshop', formats, BOXES.pdf)

test('a look sheet is one page with each sign in the order of the zones, boxes, odometer, cautions and deference', async () => {
  const pages = await readPdf(await papersAsPdf([paper], 'a4'))
  expect(pages).toHaveLength(1)
  const { text } = pages[0]!
  for (const words of [
    'V-018',
    'Damp below',
    'Torch from below',
    'Odometer',
    'Whines: do not drive on',
    CARE,
  ])
    expect(text).toContain(words)
  expect(text.replace(/\s+/g, '')).toContain(CAUTION.replace(/\s+/g, ''))
  expect(text).toContain('Do not drive it: no look on the road')
  expect(text.indexOf('Crust in front')).toBeLessThan(text.indexOf('Damp below'))
  expect(text.indexOf('Damp below')).toBeLessThan(text.indexOf('Whines'))
  expect(text).not.toContain('Too hot')
  expect(text).not.toContain('?')
  expect(text.match(/\[\s+\]/g)?.length).toBeGreaterThan(3 * 3)
})
