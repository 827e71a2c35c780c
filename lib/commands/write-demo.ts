import { mkdir, writeFile } from 'node:fs/promises'
import path from 'node:path'
import { pathToFileURL } from 'node:url'
import { Command } from 'commander'
import { dayIn } from '@/lib/units/dates'
import { makeDemo } from '@/seed/demo'
import { type CommandIo, processIo } from './inner/bad-argument'

/**
 * `npm run demo`: the invented organisation as a data folder with its library, ready for `npm run score`.
 *
 * @param folder made where it is missing; files of the same names are replaced
 * @param now the present instant: the records end the day before
 */
export async function writeDemo(folder: string, now: Date, io: CommandIo): Promise<void> {
  const demo = makeDemo({ today: dayIn('UTC', now) })
  await mkdir(folder, { recursive: true })
  for (const [name, bytes] of demo.files) await writeFile(path.join(folder, name), bytes)
  await writeFile(path.join(folder, 'library.json'), demo.libraryJson)
  io.say(`${demo.organisation.name}: ${demo.files.size} files and library.json written to ${folder}`)
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const command = new Command('demo').requiredOption('--out <dir>', 'folder to write to').parse()
  await writeDemo(command.opts<{ out: string }>().out, new Date(), processIo())
}
