import { createWriteStream } from 'node:fs'
import { rename, rm } from 'node:fs/promises'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import { type Entry, type ZipFile as OpenedZip, openPromise } from 'yauzl'
import { ZipFile } from 'yazl'

/** A file of an archive; its content is asked for when its turn comes, after those before it. */
export type ZipEntry = { name: string; content: () => AsyncIterable<Uint8Array> }

/**
 * Writes an archive, entry after entry, without holding any of it in memory. Until it is whole it has another name;
 * nobody else on the machine may read it, for it holds what an organisation knows of its customers.
 *
 * @param file replaced where it is there
 * @param now the time that its entries carry
 * @throws whatever an entry's content throws; then no file is left
 */
export async function writeZip(file: string, entries: Iterable<ZipEntry>, now: Date): Promise<void> {
  const unfinished = `${file}.unfinished`
  const zip = new ZipFile()
  const stop = new AbortController()
  const failed = new Promise<never>((_, reject) => zip.on('error', reject))
  for (const { name, content } of entries) {
    const source = Readable.from(content())
    source.on('error', (error) => zip.emit('error', error)) // from the first moment, not from its turn on
    zip.addReadStream(source, name, { mtime: now, mode: 0o100644 })
  }
  zip.end()
  try {
    const written = pipeline(zip.outputStream, createWriteStream(unfinished, { mode: 0o600 }), {
      signal: stop.signal,
    })
    await Promise.race([written, failed])
    await rename(unfinished, file)
  } catch (error) {
    stop.abort()
    await rm(unfinished, { force: true })
    throw error
  }
}

/** An archive that is open for reading. */
export type Zip = {
  names: string[]
  /** The content of one entry; it fails where the archive is damaged. */
  read(name: string): AsyncIterable<Uint8Array>
  close(): void
}

/** Opens an archive. @throws when there is no such file, or it is no archive */
export async function openZip(file: string): Promise<Zip> {
  const zip = await openPromise(file, { autoClose: false })
  const entries = await entriesOf(zip)
  return {
    names: [...entries.keys()],
    read: (name) => contentOf(zip, entries.get(name)),
    close: () => zip.close(),
  }
}

async function entriesOf(zip: OpenedZip): Promise<Map<string, Entry>> {
  const entries = new Map<string, Entry>()
  for await (const entry of zip.eachEntry()) entries.set(entry.fileName, entry)
  return entries
}

async function* contentOf(zip: OpenedZip, entry: Entry | undefined): AsyncGenerator<Uint8Array> {
  if (entry) yield* await zip.openReadStreamPromise(entry)
}

/** A whole entry in memory. */
export async function bytesOf(content: AsyncIterable<Uint8Array>): Promise<Uint8Array> {
  const chunks: Uint8Array[] = []
  for await (const chunk of content) chunks.push(chunk)
  return Buffer.concat(chunks)
}
