import { type MailSender, type MailTerms, smtpSender } from './mail'
import { missingForMail } from './mail-set-up'

/** What mail needs: who sends it, and where people reach the product, without a slash at the end. */
export type Post = { send: MailSender; publicAddress: string }

/** How mail goes out. */
export const postBy = ({ publicAddress, ...terms }: MailTerms & { publicAddress: string }): Post => ({
  send: smtpSender(terms),
  publicAddress: publicAddress.replace(/\/+$/, ''),
})

/**
 * How mail goes out by the environment, of which the start has made sure that it is right.
 *
 * @param variables the environment
 * @returns null where mail is not set up
 */
export function postFrom(variables: Record<string, string | undefined>): Post | null {
  const { SMTP_URL = '', MAIL_FROM = '', PUBLIC_ADDRESS = '' } = variables
  if (missingForMail(variables).length > 0) return null
  return postBy({ smtpUrl: SMTP_URL, from: MAIL_FROM, publicAddress: PUBLIC_ADDRESS })
}
