import { readFile } from 'node:fs/promises'
import { parseFit } from '@/lib/intake/fit-file'
import type { Library } from '@/lib/records/library'
import type { FleetFit } from '@/lib/scoring/family-fit'
import { BadArgument, type CommandIo } from './bad-argument'

/**
 * Reads what `--fit` names; that it was learned under another library is told.
 *
 * @throws BadArgument where it cannot be used with the library.
 */
export async function openFit(file: string, library: Library, io: CommandIo): Promise<FleetFit> {
  const text = await readFile(file, 'utf8').catch(() => null)
  if (text === null) throw new BadArgument(`--fit ${file}: is no file that can be read`)
  const read = parseFit(text, library)
  if (!read.ok) {
    const [{ place, message } = { place: '', message: '' }] = read.errors
    throw new BadArgument(`--fit ${file}: ${place}: ${message}`)
  }
  if (!read.value.ofLibrary) io.say(`${file}: was learned under another library; weak points match by name`)
  return read.value.fit
}
