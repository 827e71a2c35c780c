/** Labels on paper: codes that a program which did not make them reads back, sheets of a whole grid; the driver's form. */
import { writeFileSync } from 'node:fs'
import path from 'node:path'
import { createCanvas, loadImage } from '@napi-rs/canvas'
import jsQR from 'jsqr'
import { expect, test } from 'vitest'
import { driverSchema } from '@/app/(label)/q/[key]/driver-schema'
import { DRIVER_KINDS, MIND, REFUSED, STOP_AT_ONCE } from '@/app/(label)/q/[key]/driver-words'
import { labelsAsPdf } from '@/app/(people)/labels/label-pdf'
import { LABEL_SIZE_KEYS, LABEL_SIZES } from '@/app/(people)/labels/label-words'
import { labelsAddress, labelsAsked } from '@/app/(people)/labels/labels-asked'
import { qrPath } from '@/app/(people)/labels/qr-path'
import { parametersIn } from '@/app/(people)/parameters-in'
import { DRIVER_REPORT_KINDS } from '@/lib/records/driver-report'
import { readPdf } from './read-pdf'

/** Pictures are written where somebody says so, to be looked at. */
const PICTURES = process.env.PAPER_PICTURES

const ADDRESS =
  'https://gudgeon.example.com/q/AZqxsW6tdeOlR1eF9vUoYQGaznxTcIKyh3LpBj4mVkD7gN0wX2fH8rS-iuJ5M_zC'
const labels = (count: number) =>
  Array.from({ length: count }, (_, i) => ({
    ...{ unit: `V-${String(i + 1).padStart(3, '0')}`, address: ADDRESS, qr: qrPath(ADDRESS) },
  }))

/** The texts of the codes on a picture of black on white, each cut out of its place in the grid. */
async function codesOn(picture: Buffer, columns: number, rows: number): Promise<(string | undefined)[]> {
  const image = await loadImage(picture)
  const [width, height] = [Math.floor(image.width / columns), Math.floor(image.height / rows)]
  return Array.from({ length: columns * rows }, (_, i) => {
    // Drawn larger: a telephone sees more points of a code than this small picture has.
    const canvas = createCanvas(2 * width, 2 * height)
    const [x, y] = [(i % columns) * width, Math.floor(i / columns) * height]
    canvas.getContext('2d').drawImage(image, x, y, width, height, 0, 0, 2 * width, 2 * height)
    const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height)
    return jsQR(new Uint8ClampedArray(data), canvas.width, canvas.height)?.data
  })
}

test('codes on the sheet are read back by a program that did not make them, each its own', async () => {
  const { columns, rows } = LABEL_SIZES.large
  const each = labels(columns * rows).map(({ unit }) => ({
    unit,
    address: `${ADDRESS}${unit}`,
    qr: qrPath(`${ADDRESS}${unit}`),
  }))
  const [page] = await readPdf(await labelsAsPdf(each, 'large', 'a4'))
  expect(await codesOn(page!.picture, columns, rows)).toEqual(each.map(({ address }) => address))
})

test.each(LABEL_SIZE_KEYS)(
  '%s labels fill whole sheets, each with its number and its address',
  async (size) => {
    const { columns, rows } = LABEL_SIZES[size]
    const pages = await readPdf(await labelsAsPdf(labels(columns * rows + 1), size, 'a4'))
    expect(pages).toHaveLength(2)
    const [first, second] = pages
    if (PICTURES) writeFileSync(path.join(PICTURES, `labels-${size}.png`), first!.picture)
    expect(first!.margins.right).toBeGreaterThan(0)
    for (let i = 1; i <= columns * rows; i++) expect(first!.text).toContain(`V-${String(i).padStart(3, '0')}`)
    expect(second!.text).toContain(`V-${String(columns * rows + 1).padStart(3, '0')}`)
    expect(second!.text.replace(/\s+/g, '')).toContain(ADDRESS)
  },
)

test('what an address asks of labels comes back from the address that asks it', () => {
  const view = { search: 'V 1', site: 'Nörd', without: true, units: ['V-1', 'V&2'], size: 'large' } as const
  const asked = labelsAsked(
    parametersIn(new URL(labelsAddress({ ...view, units: [...view.units] }), 'http://x').searchParams),
  )
  expect(asked).toEqual(view)
  expect(labelsAsked({ size: 'huge' })).toEqual({
    search: '',
    site: '',
    without: false,
    units: [],
    size: 'middle',
  })
})

test('the driver’s form takes a few words, reads the odometer in the unit it is in, and says what to mend', () => {
  const read = (typed: object, distance: 'km' | 'mi' = 'km') =>
    driverSchema(distance).safeParse({ kind: 'noise', words: 'uphill', odometer: '', driver: '', ...typed })
  expect(read({})).toMatchObject({ success: true, data: { kind: 'noise', odometer: null, driver: null } })
  expect(read({ odometer: '84.210', driver: ' Mo ' })).toMatchObject({
    data: { odometer: 84_210, driver: 'Mo' },
  })
  const miles = read({ odometer: '1000' }, 'mi')
  expect(miles.data!.odometer).toBeCloseTo(1609.344, 6)
  const slips = [
    { kind: 'bomb' },
    { words: '' },
    { words: 'x'.repeat(501) },
    { words: 'a\0b' },
    { odometer: 'many' },
    { odometer: '9'.repeat(31) },
    { driver: 'x'.repeat(81) },
  ]
  for (const slip of slips) {
    const { error } = read(slip)
    expect(error!.issues[0]!.path).toEqual([Object.keys(slip)[0]])
    expect(error!.issues[0]!.message).toMatch(/^(Say|Write|Shorten)/)
  }
})

test('what may not wait says what to do, and a refusal says whom to call or when to send it again', () => {
  expect(DRIVER_REPORT_KINDS.every((kind) => DRIVER_KINDS[kind].length > 0)).toBe(true)
  for (const words of [STOP_AT_ONCE.what, ...Object.values(MIND)]) {
    expect(words.toLowerCase()).toContain('engine off')
    expect(words.toLowerCase()).toContain('do not restart')
    expect(words.toLowerCase()).toContain('workshop')
  }
  for (const words of Object.values(REFUSED)) expect(words).toMatch(/telephone|Wait a minute/)
})
