import type { CommandIo } from '@/lib/commands/inner/bad-argument'

type Command = (argv: readonly string[], io: CommandIo) => Promise<number>

/** Runs a command as it would be typed: its exit code, what it wrote, and the lines that it said. */
export async function runOn(command: Command, argv: readonly string[], now = '2026-06-30T12:00:00Z') {
  const said: string[] = []
  const out: string[] = []
  const io = {
    write: (text: string) => void out.push(text),
    say: (line: string) => void said.push(line),
    now: new Date(now),
  }
  return { code: await command(argv, io), out: out.join(''), said }
}
