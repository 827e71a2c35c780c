/**
 * Sends one thing in a process of its own, whose trusted certificates are its environment's: `webhook` or `mail`, and an
 * address. Says on its output what came of it. Every name leads to this machine.
 */
import dns from 'node:dns'
import { postOnce } from '@/lib/jobs/inner/post-once'
import { smtpSender } from '@/lib/jobs/mail'

const HERE = '127.0.0.1'

async function sent([kind, address = '']: string[]): Promise<string> {
  if (kind === 'webhook')
    return postOnce({ address, body: '{}', headers: {} }, { anywhere: true }, async () => [HERE])
  const send = smtpSender({ smtpUrl: address, from: 'Gudgeon <gudgeon@example.com>' })
  return send({
    to: { name: 'Nell', address: 'nell@example.org' },
    subject: 'A letter',
    text: 'Words.',
  }).then(
    () => 'taken',
    (error: Error & { code?: string }) => `${error.code}`,
  )
}

dns.setDefaultResultOrder('ipv4first')
void sent(process.argv.slice(2)).then((outcome) => process.stdout.write(outcome))
