/** Archives written byte by byte (APPNOTE of the ZIP format, from memory), so that they can lie. */
import { constants, deflateRawSync } from 'node:zlib'

export interface Part {
  name: string
  /** As it stands in the archive, deflated. */
  packed: Uint8Array
  /** What the archive says of its size. */
  says: number
}

const LOCAL = 0x04034b50
const IN_DIRECTORY = 0x02014b50
const END = 0x06054b50
const VERSION = 20
const DEFLATED = 8

export const partOf = (name: string, text: string): Part => {
  const bytes = Buffer.from(text)
  return { name, packed: deflateRawSync(bytes), says: bytes.length }
}

export function zipOf(parts: readonly Part[], flags = 0): Uint8Array {
  const files: Buffer[] = []
  const directory: Buffer[] = []
  let offset = 0
  for (const { name, packed, says } of parts) {
    const common = Buffer.alloc(26)
    common.writeUInt16LE(VERSION, 0)
    common.writeUInt16LE(flags, 2)
    common.writeUInt16LE(DEFLATED, 4)
    common.writeUInt32LE(packed.length, 14)
    common.writeUInt32LE(says, 18)
    common.writeUInt16LE(name.length, 22)
    const local = Buffer.concat([u32(LOCAL), common, Buffer.from(name), packed])
    directory.push(u32(IN_DIRECTORY), u16(VERSION), common, Buffer.alloc(10), u32(offset), Buffer.from(name))
    files.push(local)
    offset += local.length
  }
  const listed = Buffer.concat(directory)
  const count = u16(parts.length)
  const end = [u32(END), Buffer.alloc(4), count, count, u32(listed.length), u32(offset), u16(0)]
  return new Uint8Array(Buffer.concat([...files, listed, ...end]))
}

function u32(value: number): Buffer {
  const bytes = Buffer.alloc(4)
  bytes.writeUInt32LE(value)
  return bytes
}

function u16(value: number): Buffer {
  const bytes = Buffer.alloc(2)
  bytes.writeUInt16LE(value)
  return bytes
}

const MEGABYTE = 1_000_000

/** Zeros, packed to a thousandth: one million of them again and again, and an end. */
export function zeros(megabytes: number): Uint8Array {
  const million = deflateRawSync(Buffer.alloc(MEGABYTE), { finishFlush: constants.Z_FULL_FLUSH })
  return Buffer.concat([...Array<Buffer>(megabytes).fill(million), deflateRawSync(Buffer.alloc(0))])
}

const TYPES = `<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>
<Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/>
<Override PartName="/xl/styles.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"/></Types>`
const RELATIONS = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships'
const WORKBOOK = `<?xml version="1.0"?><workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"
 xmlns:r="${RELATIONS}"><sheets><sheet name="Jobs" sheetId="1" r:id="rId1"/></sheets></workbook>`
const OF_WORKBOOK = `<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Id="rId1" Type="${RELATIONS}/worksheet" Target="worksheets/sheet1.xml"/>
<Relationship Id="rId2" Type="${RELATIONS}/styles" Target="styles.xml"/></Relationships>`

/** Style 1 is yellow, style 2 white. */
const STYLES = `<?xml version="1.0"?><styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">
<fills count="4"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill>
<fill><patternFill patternType="solid"><fgColor rgb="FFFFFF00"/></patternFill></fill>
<fill><patternFill patternType="solid"><fgColor rgb="FFFFFFFF"/></patternFill></fill></fills>
<cellXfs count="3"><xf numFmtId="0" fillId="0"/><xf numFmtId="0" fillId="2" applyFill="1"/>
<xf numFmtId="0" fillId="3" applyFill="1"/></cellXfs></styleSheet>`

/** The parts of a workbook whose one sheet, Jobs, is written in XML by hand. */
export const workbookParts = (sheet: Part): Part[] => [
  partOf('[Content_Types].xml', TYPES),
  partOf('xl/workbook.xml', WORKBOOK),
  partOf('xl/_rels/workbook.xml.rels', OF_WORKBOOK),
  partOf('xl/styles.xml', STYLES),
  sheet,
]

export const SHEET = 'xl/worksheets/sheet1.xml'

/** A workbook whose sheet has these rows, in XML, and this range as it says of itself. */
export const workbookOfXml = (rows: string, range = 'A1'): Uint8Array =>
  zipOf(
    workbookParts(
      partOf(
        SHEET,
        `<?xml version="1.0"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">
<dimension ref="${range}"/><sheetData>${rows}</sheetData></worksheet>`,
      ),
    ),
  )

const SECTOR = 512
const [OF_FAT, LAST_OF_CHAIN, FREE] = [-3, -2, -1]

/**
 * A compound file ([MS-CFB], from memory) laid out as the program that made the format does: its table and its directory
 * first, the stream of the workbook behind them, up to its end.
 */
export function oldFileOf(stream: Uint8Array): Uint8Array {
  const sectors = Math.ceil(stream.length / SECTOR)
  const head = Buffer.alloc(SECTOR)
  Buffer.from([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1]).copy(head)
  for (const [place, value] of [0x3e, 3, 0xfffe, 9, 6].entries()) head.writeUInt16LE(value, 24 + 2 * place)
  const longs = [1, 1, 0, 4096, LAST_OF_CHAIN, 0, LAST_OF_CHAIN, 0, 0, ...Array<number>(108).fill(FREE)]
  for (const [place, value] of longs.entries()) head.writeInt32LE(value, 44 + 4 * place)
  const fat = Buffer.alloc(SECTOR, 0xff)
  fat.writeInt32LE(OF_FAT, 0)
  fat.writeInt32LE(LAST_OF_CHAIN, 4)
  for (let sector = 2; sector < sectors + 2; sector++)
    fat.writeInt32LE(sector === sectors + 1 ? LAST_OF_CHAIN : sector + 1, 4 * sector)
  const directory = Buffer.concat([
    entryOf('Root Entry', { kind: 5, child: 1, start: LAST_OF_CHAIN, size: 0 }),
    entryOf('Workbook', { kind: 2, child: FREE, start: 2, size: stream.length }),
    Buffer.alloc(256),
  ])
  const rest = Buffer.alloc(sectors * SECTOR - stream.length)
  return new Uint8Array(Buffer.concat([head, fat, directory, stream, rest]))
}

function entryOf(
  name: string,
  { kind, child, start, size }: Record<'kind' | 'child' | 'start' | 'size', number>,
) {
  const entry = Buffer.alloc(128)
  entry.write(name, 'utf16le')
  entry.writeUInt16LE(2 * name.length + 2, 64)
  entry.writeUInt8(kind, 66)
  entry.writeUInt8(1, 67)
  for (const [place, value] of [FREE, FREE, child].entries()) entry.writeInt32LE(value, 68 + 4 * place)
  entry.writeInt32LE(start, 116)
  entry.writeUInt32LE(size, 120)
  return entry
}
