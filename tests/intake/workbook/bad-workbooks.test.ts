import { mkdtempSync, writeFileSync } from 'node:fs'
import http from 'node:http'
import type { AddressInfo } from 'node:net'
import os from 'node:os'
import path from 'node:path'
import { CFB } from '@e965/xlsx'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { profileWorkbook } from '@/lib/intake/workbook/profile-workbook'
import { readWorkbook } from '@/lib/intake/workbook/read-workbook'
import { profileApart } from '@/lib/intake/workbook/workbook-apart'
import { oldFileOf, partOf, SHEET, workbookOfXml, workbookParts, zeros, zipOf } from './archives'
import { bytesOf, firstSheet, readWell, textBytes, textsOf } from './workbooks'

async function reasonFor(bytes: Uint8Array, name = 'jobs.xlsx'): Promise<string> {
  const read = await readWorkbook(name, bytes)
  return read.ok ? 'it was read' : read.reason
}

/** A sheet whose one cell is an entity of this declaration. */
const withEntity = (declaration: string) =>
  zipOf(
    workbookParts(
      partOf(
        SHEET,
        `<?xml version="1.0"?><!DOCTYPE worksheet [${declaration}]>
<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><dimension ref="A1:B1"/><sheetData>
<row r="1"><c r="A1" t="inlineStr"><is><t>V-1</t></is></c><c r="B1" t="inlineStr"><is><t>[&it;]</t></is></c></row>
</sheetData></worksheet>`,
      ),
    ),
  )

const text = (rows: string) => `<c t="inlineStr"><is><t>${rows}</t></is></c>`

test('an entity of XML brings in no file, no address and no multitude', async () => {
  const secret = path.join(mkdtempSync(path.join(os.tmpdir(), 'gudgeon-entity-')), 'secret')
  writeFileSync(secret, 'the words of another file')
  let asked = 0
  const server = http.createServer((_, answer) => {
    asked++
    answer.end('the words of another host')
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as AddressInfo
  const doubled = Array.from({ length: 30 }, (_, i) => `<!ENTITY e${i + 1} "&e${i};&e${i};">`).join('')
  for (const declaration of [
    `<!ENTITY it SYSTEM "file://${secret}">`,
    `<!ENTITY it SYSTEM "http://127.0.0.1:${port}/">`,
    `<!ENTITY % there SYSTEM "http://127.0.0.1:${port}/"> %there;`,
    `<!ENTITY e0 "the words of many">${doubled}<!ENTITY it "&e30;">`,
  ]) {
    const read = await readWorkbook('jobs.xlsx', withEntity(declaration))
    expect(JSON.stringify(read), declaration).toContain('V-1')
    expect(JSON.stringify(read), declaration).not.toContain('the words of')
  }
  expect(asked).toBe(0)
  server.close()
})

describe('what is no workbook', () => {
  test('is refused with what to do, whatever its name says', async () => {
    const page = '<html><body><table><tr><td>V01</td></tr></table></body></html>'
    expect(await reasonFor(textBytes('%PDF-1.7\n%âãÏÓ'), 'jobs.xlsx')).toContain('It is a PDF')
    expect(await reasonFor(new Uint8Array([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10]))).toContain(
      'It is a picture',
    )
    expect(await reasonFor(new Uint8Array([0xff, 0xd8, 0xff, 0xe0, 0, 16]))).toContain('It is a picture')
    expect(await reasonFor(textBytes(page), 'jobs.xls')).toContain('It is a web page')
    expect(await reasonFor(textBytes(`\uFEFF\n ${page}`), 'jobs.xls')).toContain('It is a web page')
    expect(await reasonFor(new Uint8Array(Buffer.from(`\uFEFF${page}`, 'utf16le')), 'jobs.xls')).toContain(
      'It is a web page',
    )
    expect(await reasonFor(textBytes('<?xml version="1.0"?><Workbook/>'), 'jobs.xls')).toContain(
      'It is a web page or XML',
    )
    expect(await reasonFor(new Uint8Array([1, 2, 3, 0, 200, 7]))).toContain('It is no workbook')
    expect(await reasonFor(zipOf([partOf('notes.txt', 'a')]))).toContain('no workbook is in it')
    expect(
      await reasonFor(zipOf([partOf('[Content_Types].xml', '<Types/>'), partOf('word/document.xml', '')])),
    ).toContain('a document of another kind')
  })

  test('is refused where it is an old document of another kind', async () => {
    const letter = CFB.utils.cfb_new()
    CFB.utils.cfb_add(letter, '/WordDocument', new Uint8Array(5000))
    const bytes = new Uint8Array(CFB.write(letter, { type: 'buffer' }) as Buffer)
    expect(await reasonFor(bytes, 'jobs.xls')).toContain('a document of another kind')
  })

  test('is refused where nothing stands in it', async () => {
    for (const bytes of [
      new Uint8Array(),
      textBytes('\n\n ; ;\n'),
      bytesOf({ Jobs: [] }),
      bytesOf({ Jobs: [[' ']] }),
    ]) {
      expect(await reasonFor(bytes, 'jobs.csv')).toContain('It is empty')
    }
  })

  test('is refused where formulas alone stand in it, without their results', async () => {
    const bytes = workbookOfXml('<row r="1"><c r="A1"><f>1+1</f></c><c r="B1"><f>A1*2</f></c></row>')
    expect(await reasonFor(bytes)).toContain('It holds formulas alone, and none of their results: open it')
  })

  test('is refused where a password protects it', async () => {
    const locked = CFB.utils.cfb_new()
    CFB.utils.cfb_add(locked, '/EncryptionInfo', new Uint8Array(64))
    CFB.utils.cfb_add(locked, '/EncryptedPackage', new Uint8Array(5000))
    expect(await reasonFor(new Uint8Array(CFB.write(locked, { type: 'buffer' }) as Buffer))).toContain(
      'by a password',
    )
    expect(await reasonFor(zipOf(workbookParts(partOf(SHEET, '<worksheet/>')), 1))).toContain('by a password')
    // A BIFF8 stream: BOF, then FILEPASS with RC4.
    const stream = Buffer.concat([
      Buffer.from([0x09, 0x08, 0x10, 0x00, 0x00, 0x06, 0x05, 0x00, ...Array<number>(12).fill(0)]),
      Buffer.from([0x2f, 0x00, 0x36, 0x00, 0x01, 0x00, 0x01, 0x00, 0x01, 0x00, ...Array<number>(48).fill(7)]),
    ])
    const old = CFB.utils.cfb_new()
    CFB.utils.cfb_add(old, '/Workbook', Buffer.concat([stream, Buffer.alloc(5000)]))
    expect(
      await reasonFor(new Uint8Array(CFB.write(old, { type: 'buffer' }) as Buffer), 'jobs.xls'),
    ).toContain('by a password')
  })
})

describe('a workbook that was cut off', () => {
  const rows = Array.from({ length: 60 }, (_, row) => [`V${row}`, row, `job number ${row}`])

  test('is refused or read, wherever it was cut, and never fails', () =>
    fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...(['xlsx', 'xlsb', 'ods', 'biff8'] as const)),
        fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }),
        async (format, share) => {
          const bytes = bytesOf({ Jobs: rows, Notes: rows }, format)
          // A few bytes of it are a text as good as any other.
          const end = Math.max(8, Math.floor(share * bytes.length))
          const read = await readWorkbook('jobs.xlsx', bytes.subarray(0, end))
          if (!read.ok) expect(read.reason).toMatch(/^It is (?:cut off or damaged|empty)/)
          // What follows the last stream of an old workbook may be missing; no row is.
          else
            expect([format, ...read.workbook.sheets.map((sheet) => sheet.rows.length)]).toEqual([
              'biff8',
              60,
              60,
            ])
        },
      ),
      { numRuns: 400 },
    ))

  test('is refused or read, whatever else became of one of its bytes', () =>
    fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...(['xlsx', 'ods', 'biff8'] as const)),
        fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }),
        fc.integer({ min: 0, max: 255 }),
        async (format, share, byte) => {
          const bytes = bytesOf({ Jobs: rows }, format)
          bytes[Math.floor(share * bytes.length)] = byte
          const read = await readWorkbook('jobs.xlsx', bytes)
          if (!read.ok) expect(read.reason).toMatch(/^It/)
        },
      ),
      { numRuns: 300 },
    ))

  test('is refused wherever an old one was cut, its rows at its end', async () => {
    const found = CFB.find(
      CFB.read(Buffer.from(bytesOf({ Jobs: rows, Notes: rows }, 'biff8')), { type: 'buffer' }),
      '/Workbook',
    )
    const stream = Uint8Array.from(found?.content as Uint8Array)
    const bytes = oldFileOf(stream)
    expect((await readWell(bytes, 'jobs.xls')).sheets.map((sheet) => sheet.rows.length)).toEqual([60, 60])
    const padding = bytes.length - (3 * 512 + stream.length)
    for (let cut = padding + 1; cut < bytes.length - 8; cut += 97) {
      expect(await reasonFor(bytes.subarray(0, bytes.length - cut), 'jobs.xls')).toContain(
        'cut off or damaged',
      )
    }
  })

  test('is refused where a part of it is missing', async () => {
    const parts = workbookParts(partOf(SHEET, '')).filter(({ name }) => name !== SHEET)
    expect(await reasonFor(zipOf(parts))).toContain('Its sheet Jobs cannot be read')
  })
})

describe('a workbook that unpacks to more than any table', () => {
  test('is refused by what it says of itself', async () => {
    const bomb = zipOf(workbookParts({ name: SHEET, packed: zeros(2000), says: 2_000_000_000 }))
    expect(bomb.length).toBeLessThan(3_000_000)
    expect(await reasonFor(bomb)).toContain('far more than any table')
  })

  test('is refused where it lies about that', async () => {
    const bomb = zipOf(workbookParts({ name: SHEET, packed: zeros(2000), says: 1000 }))
    const before = process.cpuUsage()
    expect(await reasonFor(bomb)).toContain('cut off or damaged')
    const { user, system } = process.cpuUsage(before)
    expect(user + system).toBeLessThan(3_000_000)
  })

  test('is refused where what is behind its last entry would be found first', async () => {
    const bytes = zipOf(workbookParts(partOf(SHEET, '<worksheet/>')))
    const comment = Buffer.concat([Buffer.from('PK\x05\x06'), Buffer.alloc(18), Buffer.from('x')])
    const commented = Buffer.concat([bytes, comment])
    commented.writeUInt16LE(comment.length, bytes.length - 2)
    expect(await reasonFor(new Uint8Array(commented))).toContain('cut off or damaged')
  })

  test('ends the process that reads it, and none but that', async () => {
    const cell =
      '<table:table-cell table:number-columns-repeated="16384" office:value-type="string"><text:p>a</text:p></table:table-cell>'
    const content = `<?xml version="1.0"?><office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0"
 xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0">
<office:body><office:spreadsheet><table:table table:name="Jobs"><table:table-row table:number-rows-repeated="1048576">${cell}
</table:table-row></table:table></office:spreadsheet></office:body></office:document-content>`
    const bytes = zipOf([
      partOf('META-INF/manifest.xml', '<manifest/>'),
      partOf('styles.xml', '<styles/>'),
      partOf('content.xml', content),
    ])
    expect(bytes.length).toBeLessThan(2000)
    const read = await profileApart({ name: 'jobs.ods', bytes }, { limits: { seconds: 60, megabytes: 80 } })
    expect(read.ok ? '' : read.reason).toContain('within 60 seconds and 80 MB')
  })

  test('ends the process that reads it when its time is over', async () => {
    const rows = `<row>${text('a')}</row>`.repeat(200_000)
    const read = await profileApart(
      { name: 'jobs.xlsx', bytes: workbookOfXml(rows) },
      { limits: { seconds: 0.2, megabytes: 500 } },
    )
    expect(read.ok ? '' : read.reason).toContain('within 0.2 seconds')
  })
})

describe('a workbook that is odd, and a workbook', () => {
  test('says that it has more rows than it has', async () => {
    const rows = '<row r="2"><c r="B2"><v>5</v></c></row><row r="3"><c r="A3" t="str"><v>end</v></c></row>'
    const sheet = await firstSheet(workbookOfXml(rows, 'A1:XFD1048576'))
    expect(sheet.rows).toEqual([[], [null, { text: '5', number: 5 }], [{ text: 'end' }]])
  })

  test('has a cell in its last row and one in its last column', async () => {
    const rows = `<row r="1"><c r="XFD1"><v>1</v></c></row><row r="1048576"><c r="A1048576"><v>2</v></c></row>`
    const sheet = await firstSheet(workbookOfXml(rows))
    expect([sheet.rows.length, sheet.rows[0]?.length]).toEqual([1_048_576, 16_384])
    const [profile] = profileWorkbook({ sheets: [sheet] }).sheets
    expect(profile?.columns.map(({ key, filled }) => [key, filled])).toEqual([
      ['column a', 1],
      ['column xfd', 1],
    ])
  })

  test('has more rows or columns than any may have, and is refused', async () => {
    expect(await reasonFor(workbookOfXml('<row r="1048577"><c r="A1048577"><v>2</v></c></row>'))).toContain(
      '1,048,576 rows',
    )
    expect(await reasonFor(workbookOfXml('<row r="1"><c r="XFE1"><v>2</v></c></row>'))).toContain(
      '16,384 columns',
    )
    expect(await reasonFor(textBytes(`${'a,'.repeat(16_384)}b`), 'jobs.csv')).toContain('16,384 columns')
    expect(await reasonFor(textBytes(`${'\n'.repeat(1_048_576)}b`), 'jobs.csv')).toContain('1,048,576 rows')
  })

  test('has ten thousand columns, each of which is counted', async () => {
    const header = Array.from({ length: 10_000 }, (_, column) => `name ${'abcdefghij'[column % 10]}`)
    const row = Array.from({ length: 10_000 }, (_, column) => column)
    const [profile] = profileWorkbook(await readWell(bytesOf({ Jobs: [header, row, row] }))).sheets
    expect(profile?.columns.length).toBe(10_000)
    expect(new Set(profile?.columns.map(({ key }) => key)).size).toBe(10_000)
    expect(profile?.columns.every(({ numbers }) => numbers === 2)).toBe(true)
  })

  test('has formulas without results, colours and macros, and says so', async () => {
    const rows = `<row r="1"><c r="A1"><f>1+1</f></c><c r="B1"><f>1+1</f><v>2</v></c><c r="C1"><f>1-1</f><v>0</v></c><c r="D1" t="str"><f>""</f><v></v></c></row>
<row r="2"><c r="A2" s="1"/><c r="B2" s="1"><v>3</v></c><c r="C2" s="2"><v>3</v></c></row>`
    const { rows: read, noticed } = await firstSheet(workbookOfXml(rows))
    expect(read).toEqual([
      [null, { text: '2', number: 2 }, { text: '0', number: 0 }],
      [null, { text: '3', number: 3 }, { text: '3', number: 3 }],
    ])
    expect([noticed.formulasWithoutResult, noticed.coloured]).toEqual([1, 2])
    const parts = [...workbookParts(partOf(SHEET, `<worksheet><sheetData>${rows}</sheetData></worksheet>`))]
    const { notes } = await readWell(zipOf([...parts, partOf('xl/vbaProject.bin', 'macros')]), 'jobs.xlsm')
    expect(notes).toEqual(['Its macros are not read'])
  })

  test('has names that every object has', async () => {
    const grid = [
      ['constructor', '__proto__', 'toString'],
      [1, 2, 3],
    ]
    const workbook = await readWell(bytesOf({ constructor: grid }))
    const { sheets } = profileWorkbook(workbook)
    expect(sheets[0]?.columns.map(({ key, header }) => [key, header])).toEqual([
      ['column a', 'constructor'],
      ['column b', '__proto__'],
      ['tostring', 'toString'],
    ])
    expect(sheets[0]?.headerRow).toBe(1)
  })

  test('holds what a database cannot', async () => {
    expect(await reasonFor(textBytes('a\u0000b'), 'jobs.csv')).toContain('It is no workbook and no text')
    const wide = new Uint8Array(Buffer.from('\uFEFFa\uD800b,c\n1\u0000,2\n', 'utf16le'))
    expect(textsOf(await firstSheet(wide, 'jobs.csv'))).toEqual([
      ['a\uFFFDb', 'c'],
      ['1', '2'],
    ])
  })
})
