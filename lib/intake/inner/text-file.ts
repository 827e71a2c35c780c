import { isUtf8 } from 'node:buffer'

/** A file's bytes as text, and which of its physical lines cannot be trusted; or why it is no text at all. */
export type TextFile =
  | { ok: true; text: string; badLines: ReadonlyMap<number, string> }
  | { ok: false; reason: string }

/** Longer text does not fit into one string of the JavaScript engine. */
const LARGEST_FILE = 500_000_000
const LINE_FEED = 10

/**
 * Decodes UTF-8 (a byte order mark is dropped). Lines with bytes that are not UTF-8, or with NUL, are named, so that
 * their rows can be rejected and the rest go in. Where the first line is one of them and the file begins as no text
 * does, it is none; a letter of another encoding among the names of columns is no reason to refuse every row.
 */
export function decodeText(bytes: Uint8Array): TextFile {
  if (bytes.length > LARGEST_FILE) return { ok: false, reason: 'is larger than 500 MB; split it' }
  if (startsWith(bytes, [0xff, 0xfe]) || startsWith(bytes, [0xfe, 0xff])) {
    return { ok: false, reason: 'is UTF-16; save it again as "CSV UTF-8"' }
  }
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const badLines =
    isUtf8(buffer) && !buffer.includes(0) ? new Map<number, string>() : linesThatAreNoText(buffer)
  if (badLines.has(1) && !beginsAsText(buffer)) {
    const spreadsheet = isWorkbookFile(bytes)
      ? ' (it is a spreadsheet: bring it in on the page, which reads it as it is, or save it as "CSV UTF-8")'
      : ''
    return { ok: false, reason: `is not a text file: its first line ${badLines.get(1)}${spreadsheet}` }
  }
  const text = buffer.toString('utf8').replace(/^\uFEFF/, '')
  const onlyReturns = !text.includes('\n') && text.includes('\r')
  return { ok: true, text: onlyReturns ? text.replaceAll('\r', '\n') : text, badLines }
}

/** Whether bytes are a workbook, whatever they are called: an archive as newer ones are, or an older one's container. */
export const isWorkbookFile = (bytes: Uint8Array): boolean =>
  startsWith(bytes, [0x50, 0x4b, 0x03, 0x04]) ||
  startsWith(bytes, [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1])

const BEGINNING = 1024
/** Tab, ends of lines and pages, and what stood at the end of files once. */
const CONTROLS_OF_TEXT: readonly number[] = [9, 10, 11, 12, 13, 26]

const beginsAsText = (buffer: Buffer): boolean =>
  buffer.subarray(0, BEGINNING).every((byte) => byte >= 32 || CONTROLS_OF_TEXT.includes(byte))

const startsWith = (bytes: Uint8Array, start: readonly number[]) =>
  start.every((byte, i) => bytes[i] === byte)

function linesThatAreNoText(buffer: Buffer): Map<number, string> {
  const bad = new Map<number, string>()
  let line = 1
  for (let start = 0; start < buffer.length; line++) {
    const feed = buffer.indexOf(LINE_FEED, start)
    const end = feed < 0 ? buffer.length : feed
    const bytes = buffer.subarray(start, end)
    if (!isUtf8(bytes)) bad.set(line, 'holds bytes that are not UTF-8')
    else if (bytes.includes(0)) bad.set(line, 'holds a NUL byte')
    start = end + 1
  }
  return bad
}
