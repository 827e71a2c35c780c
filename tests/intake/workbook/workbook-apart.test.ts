import { expect, test } from 'vitest'
import { applyMapping } from '@/lib/intake/workbook/apply'
import { guessMapping } from '@/lib/intake/workbook/guess'
import { profileWorkbook } from '@/lib/intake/workbook/profile-workbook'
import { applyApart, profileApart } from '@/lib/intake/workbook/workbook-apart'
import { exampleLibrary } from '../../records/example-library'
import { TODAY } from '../folder'
import { groundOf } from './bring-in'
import { fleetSheet, toXlsx } from './messy-workbooks'
import { readWell } from './workbooks'

const name = 'fleet.xlsx'

test('a process of its own answers as this one would, and tells how far it is', async () => {
  const bytes = toXlsx(fleetSheet())
  const workbook = await readWell(bytes)
  const shares: number[] = []
  const looked = await profileApart({ name, bytes }, { onShare: (done) => shares.push(done) })
  const profile = profileWorkbook(workbook)
  expect(looked).toEqual({ ok: true, profile })
  expect(shares.length).toBeGreaterThan(2)
  expect(shares).toEqual(shares.toSorted((a, b) => a - b))
  expect(shares.at(-1)).toBe(1)

  const standing = [{ unit: 'V1', family: 'plover-2.2' }]
  const mapping = guessMapping(profile, groundOf(exampleLibrary()))
  const ground = { families: exampleLibrary().families, today: TODAY, standing }
  const made = await applyApart({ name, bytes, profile, mapping, ground })
  if (!made.ok) throw new Error(made.reason)
  const { files, told } = applyMapping({ name, workbook, profile, mapping, ground })
  expect(files.length).toBeGreaterThan(0)
  expect(made.told).toEqual(told)
  expect(made.files.map((file) => ({ ...file, bytes: new TextDecoder().decode(file.bytes) }))).toEqual(
    files.map((file) => ({ ...file, bytes: new TextDecoder().decode(file.bytes) })),
  )
})

test('a sheet whose heading somebody has said is looked at from there', async () => {
  const bytes = toXlsx(fleetSheet())
  const [sheet] = fleetSheet().sheets
  const headerRows = { [sheet?.name ?? '']: null }
  const looked = await profileApart({ name, bytes, headerRows })
  expect(looked.ok && looked.profile.sheets[0]?.headerRow).toBeNull()
})

test('what is no workbook is refused with its reason', async () => {
  expect(await profileApart({ name: 'jobs.pdf', bytes: new TextEncoder().encode('%PDF-1.7') })).toEqual({
    ok: false,
    reason: 'It is a PDF, not a workbook: save its table as XLSX or CSV',
  })
})
