import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { readFolder, readFolderSettings } from '@/lib/intake/read-folder'
import { writeRejected } from '@/lib/intake/write-rejected'
import { exampleLibrary } from '../records/example-library'
import { TODAY, VEHICLES } from './folder'

let dir = ''
beforeEach(async () => {
  dir = await mkdtemp(path.join(tmpdir(), 'gudgeon-'))
})
afterEach(() => rm(dir, { recursive: true }))

const put = (name: string, text: string) => writeFile(path.join(dir, name), text)
const read = () => readFolder(dir, exampleLibrary(), TODAY)

test('a folder is read; files of other names are left alone', async () => {
  await put('vehicles.csv', VEHICLES)
  await put('notes.txt', 'nothing for us')
  await mkdir(path.join(dir, 'readings.csv'))
  const { records, rejected } = await read()
  expect([records.vehicles.length, records.readings.length, rejected.length]).toEqual([2, 0, 0])
})

test('an empty folder, a missing one, and one without vehicles say what was expected', async () => {
  const expected =
    'vehicles.csv, readings.csv, codes.csv, checks.csv, repairs.csv, changes.csv, parts.csv, settings.json'
  await expect(read()).rejects.toThrow(`${dir}: is empty; expected ${expected}`)
  await expect(readFolder(`${dir}/gone`, exampleLibrary(), TODAY)).rejects.toThrow(
    `${dir}/gone: is no folder that can be read`,
  )
  await put('readings.csv', 'unit,read_on,odometer_km\n')
  await expect(read()).rejects.toThrow(`${dir}: no vehicles.csv; expected ${expected}`)
})

test('the settings say the time zone before anything else is read', async () => {
  await put('vehicles.csv', VEHICLES)
  expect((await readFolderSettings(dir)).timeZone).toBe('UTC')
  await put('settings.json', '{"timeZone":"Asia/Tokyo"}')
  expect((await readFolderSettings(dir)).timeZone).toBe('Asia/Tokyo')
  await put('settings.json', '{"timeZone":1}')
  await expect(readFolderSettings(dir)).rejects.toThrow(`${dir}: settings.json: timeZone: `)
})

test('rejected rows are written for mending, and those of an earlier intake go', async () => {
  await put('vehicles.csv', VEHICLES)
  await put('readings.csv', 'unit;read_on;odometer_km;source\nV1;2026-01-31;-5;"said ""so"""\n')
  const written = await writeRejected(dir, (await read()).rejected)
  expect(written).toEqual([path.join(dir, 'rejected', 'readings.csv')])
  expect(await readFile(written[0] ?? '', 'utf8')).toBe(
    'line,column,reason,row\r\n2,odometer_km,-5 is negative,"V1;2026-01-31;-5;""said """"so"""""""\r\n',
  )
  expect((await read()).rejected).toHaveLength(1)
  await writeRejected(dir, [{ file: 'codes.csv', line: 2, column: 'code', reason: 'none', row: '' }])
  expect(await readdir(path.join(dir, 'rejected'))).toEqual(['codes.csv'])
  expect(await writeRejected(dir, [])).toEqual([])
  expect(await readdir(path.join(dir, 'rejected'))).toEqual([])
})
