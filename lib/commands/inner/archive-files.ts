import { mkdir, readdir, readFile, stat, writeFile } from 'node:fs/promises'
import path from 'node:path'
import type { Archive } from '@/lib/intake/archive'
import { bytesOf, openZip, writeZip } from '@/lib/intake/zip'
import { BadArgument } from './bad-argument'

const ZIP = /\.zip$/i

/** Writes an archive's files: as one zip where the name ends so, else into a folder that is empty or not there. */
export async function putArchive(out: string, files: Archive, now: Date): Promise<void> {
  if (ZIP.test(out)) {
    const entries = [...files].map(([name, bytes]) => ({ name, content: () => inOnePiece(bytes) }))
    await writeZip(out, entries, now)
    return
  }
  await mkdir(out, { recursive: true })
  if ((await readdir(out)).length > 0) throw new BadArgument(`--out ${out}: is not empty`)
  for (const [name, bytes] of files) await writeFile(path.join(out, name), bytes)
}

async function* inOnePiece(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield bytes
}

/** Reads an archive's files from a zip or a folder. */
export async function getArchive(from: string): Promise<Archive> {
  const found = await stat(from).catch(() => null)
  if (!found) throw new BadArgument(`--from ${from}: is not there`)
  return found.isDirectory() ? filesOf(from) : unzipped(from)
}

async function filesOf(folder: string): Promise<Archive> {
  const entries = await readdir(folder, { withFileTypes: true })
  const names = entries.filter((entry) => entry.isFile()).map(({ name }) => name)
  return new Map(
    await Promise.all(names.map(async (name) => [name, await readFile(path.join(folder, name))] as const)),
  )
}

async function unzipped(file: string): Promise<Archive> {
  try {
    const zip = await openZip(file)
    const files = new Map<string, Uint8Array>()
    for (const name of zip.names) files.set(name, await bytesOf(zip.read(name)))
    zip.close()
    return files
  } catch (error) {
    throw new BadArgument(
      `--from ${file}: is no archive that can be read (${error instanceof Error ? error.message : error})`,
    )
  }
}
