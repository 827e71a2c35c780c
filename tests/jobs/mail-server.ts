import { type ParsedMail, simpleParser } from 'mailparser'
import { SMTPServer } from 'smtp-server'
import { afterAll } from 'vitest'

/** A real mail server that takes what it is told to, and keeps it. */
export type MailServer = {
  url: string
  inbox: { to: string; raw: string; mail: ParsedMail }[]
  /** Addresses that it refuses. */
  refused: Set<string>
}

/** Starts one for a test file. */
export async function mailServer(): Promise<MailServer> {
  const inbox: MailServer['inbox'] = []
  const refused = new Set<string>()
  const server = new SMTPServer({
    disabledCommands: ['AUTH', 'STARTTLS'],
    onRcptTo: ({ address }, _session, answer) =>
      answer(
        refused.has(address) ? Object.assign(new Error('no such mailbox'), { responseCode: 550 }) : null,
      ),
    onData: async (stream, session, answer) => {
      const pieces: Buffer[] = []
      for await (const piece of stream) pieces.push(piece as Buffer)
      const raw = Buffer.concat(pieces)
      const mail = await simpleParser(raw)
      inbox.push({
        to: session.envelope.rcptTo.map(({ address }) => address).join(),
        raw: raw.toString(),
        mail,
      })
      answer()
    },
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  afterAll(() => new Promise<void>((resolve) => server.close(resolve)))
  const address = server.server.address()
  const port = typeof address === 'object' && address ? address.port : 0
  return { url: `smtp://127.0.0.1:${port}`, inbox, refused }
}
