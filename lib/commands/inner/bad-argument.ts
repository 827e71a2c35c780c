/** A command cannot begin as it was called; the message is one line for whoever typed it. */
export class BadArgument extends Error {
  override name = 'BadArgument'
}

/** Where a command's words and results go, and what time it is: the edge of the program, replaced in tests. */
export interface CommandIo {
  /** Results, to standard output. */
  write: (text: string) => void
  /** A line for a person, to standard error. */
  say: (line: string) => void
  now: Date
}

/** The process itself. */
export const processIo = (): CommandIo => ({
  write: (text) => process.stdout.write(text),
  say: (line) => process.stderr.write(`${line}\n`),
  now: new Date(),
})
