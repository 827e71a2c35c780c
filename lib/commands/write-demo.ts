import { mkdir, writeFile } from 'node:fs/promises'
import path from 'node:path'
import { pathToFileURL } from 'node:url'
import { Command } from 'commander'
import { dayIn } from '@/lib/units/dates'
import { type Demo, makeDemos } from '@/seed/demo'
import { type CommandIo, processIo } from './inner/bad-argument'

/**
 * `npm run demo`: each invented organisation as a data folder with its library, ready for `npm run score`.
 *
 * @param folder where their folders go; made where it is missing, files of the same names are replaced
 * @param now the present instant: the records end the day before
 */
export async function writeDemos(folder: string, now: Date, io: CommandIo): Promise<void> {
  for (const demo of makeDemos({ today: dayIn('UTC', now) }))
    await writeDemo(demo, path.join(folder, demo.organisation.key), io)
}

async function writeDemo({ organisation, files, libraryJson }: Demo, folder: string, io: CommandIo) {
  await mkdir(folder, { recursive: true })
  for (const [name, bytes] of files) await writeFile(path.join(folder, name), bytes)
  await writeFile(path.join(folder, 'library.json'), libraryJson)
  io.say(`${organisation.name}: ${files.size} files and library.json written to ${folder}`)
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const command = new Command('demo').requiredOption('--out <dir>', 'folder to write to').parse()
  await writeDemos(command.opts<{ out: string }>().out, new Date(), processIo())
}
