/** What an archive holds, found out before anything of it is read for its sense. */
import { fromBufferPromise, type ZipFile } from 'yauzl'
import { IntakeRefusal } from '../../findings'

const MEGABYTE = 1_000_000
/** What is larger does not fit into one text of the JavaScript engine, and is never read. */
const LARGEST_PART = 500 * MEGABYTE
const LARGEST_UNPACKED = 1000 * MEGABYTE
/** Tables shrink to a tenth, at the very best to a hundredth; a bomb shrinks to a thousandth. */
const MOST_TIMES = 300
const LEAST_FOR_RATIO = 100 * MEGABYTE

export const DAMAGED =
  'It is cut off or damaged: bring it in again, or open it, save it anew and bring in that'
export const TOO_LARGE =
  'It is too large when it is unpacked: take out sheets, pictures or empty rows, or save the sheet as CSV'
export const PASSWORD = 'It is protected by a password: save it without one and bring it in again'
const NO_WORKBOOK = 'It is an archive, and no workbook is in it: unpack it and bring in what it holds'
export const OTHER_KIND = 'It is a document of another kind: save its table as XLSX or CSV'
const BOMB = 'It unpacks to far more than any table would: it is not read. Save it anew, or as CSV'

/**
 * Looks whether an archive is a workbook that can be unpacked. Its parts are unpacked once, piece by piece and for
 * nothing: what its directory says of their sizes need not be true.
 *
 * @returns the names of its parts
 * @throws IntakeRefusal
 */
export async function lookIntoArchive(bytes: Uint8Array): Promise<string[]> {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const zip = await fromBufferPromise(buffer).catch(refuseDamaged)
  const entries = await directoryOf(zip).catch(refuseDamaged)
  refuseOtherKinds(entries.map(({ fileName }) => fileName))
  const unpacked = entries.reduce((sum, entry) => sum + entry.uncompressedSize, 0)
  if (unpacked > LEAST_FOR_RATIO && unpacked > MOST_TIMES * bytes.length) throw new IntakeRefusal(BOMB)
  const largest = entries.reduce((most, entry) => Math.max(most, entry.uncompressedSize), 0)
  if (unpacked > LARGEST_UNPACKED || largest > LARGEST_PART) throw new IntakeRefusal(TOO_LARGE)
  if (entries.some((entry) => entry.isEncrypted())) throw new IntakeRefusal(PASSWORD)
  for (const entry of entries) await unpackForNothing(zip, entry).catch(refuseDamaged)
  return entries.map(({ fileName }) => fileName)
}

type Entry = Parameters<ZipFile['openReadStreamPromise']>[0]

function refuseDamaged(cause: unknown): never {
  throw new IntakeRefusal(DAMAGED, { cause })
}

async function directoryOf(zip: ZipFile): Promise<Entry[]> {
  const entries: Entry[] = []
  for await (const entry of zip.eachEntry()) entries.push(entry)
  return entries
}

/** Fails where a part is longer or shorter than the directory says. */
async function unpackForNothing(zip: ZipFile, entry: Entry): Promise<void> {
  for await (const _ of await zip.openReadStreamPromise(entry));
}

function refuseOtherKinds(names: readonly string[]): void {
  if (names.some((name) => /^\/?xl\/workbook\.(xml|bin)$/i.test(name))) return
  if (names.includes('content.xml') && names.includes('META-INF/manifest.xml')) return
  const isDocument = names.some((name) => name === '[Content_Types].xml' || /\.iwa$/.test(name))
  throw new IntakeRefusal(isDocument ? OTHER_KIND : NO_WORKBOOK)
}
