import type { Mail } from '@/lib/jobs/mail'
import type { Role } from '@/lib/store/role'
import { INVITATION_DAYS } from './invitations'
import { RESET_MINUTES } from './password-reset'

/** Mails with a link that opens something to whoever has it: plain text, and nothing beside it. */

const textOf = (paragraphs: readonly string[]) => `${paragraphs.join('\n\n')}\n`

/** Asks somebody to join an organisation. */
export function invitationMail({
  mail,
  role,
  organisationName,
  invitedBy,
  link,
}: {
  mail: string
  role: Role
  organisationName: string
  invitedBy: string
  link: string
}): Mail {
  return {
    to: { name: '', address: mail },
    subject: `${invitedBy} invites you to ${organisationName}`,
    text: textOf([
      `${invitedBy} asks you to join ${organisationName} in Gudgeon as ${role}.`,
      `Join here, within ${INVITATION_DAYS} days; the link works once:\n${link}`,
      'If you do not know who that is, leave this mail alone: nothing happens.',
    ]),
  }
}

/** Gives somebody the link by which they choose a new password. */
export function resetMail({ name, mail, link }: { name: string; mail: string; link: string }): Mail {
  return {
    to: { name, address: mail },
    subject: 'A new password for Gudgeon',
    text: textOf([
      'Somebody, probably you, asked for a new password for Gudgeon.',
      `Choose it here, within ${RESET_MINUTES} minutes; the link works once:\n${link}`,
      'If it was not you, leave this mail alone: your password stays what it is.',
    ]),
  }
}
