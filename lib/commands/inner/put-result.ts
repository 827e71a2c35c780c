import { writeFile } from 'node:fs/promises'
import { BadArgument, type CommandIo } from './bad-argument'

/** Writes a command's result to what `--out` names; `-` is standard output. */
export async function putResult(out: string, pieces: Iterable<string>, io: CommandIo): Promise<void> {
  if (out === '-') {
    for (const piece of pieces) io.write(piece)
    return
  }
  await writeFile(out, pieces).catch((error: Error) => {
    throw new BadArgument(`--out ${out}: cannot be written (${error.message})`)
  })
}
