import { RESET_MINUTES } from '@/lib/people/password-reset'

/** What is said of a new password, to whoever has forgotten theirs. */
export const RESET_WORDS = {
  title: 'A new password',
  lead: `You get a mail with a link, by which you choose a new password within ${RESET_MINUTES} minutes.`,
  send: 'Send me the link',
  /** Whether anybody signs in with that address is for nobody to learn here. */
  sent: 'If somebody signs in with that address here, a mail with a link is on its way to it.',
  noMail:
    'No mail can be sent from here. Whoever runs this installation makes you a link that works once, on the machine where it runs:',
  tooOften: 'There were too many attempts. Wait a minute, then try again.',
  choose: 'Choose a new password',
  keep: 'Keep it',
  kept: 'Your new password stands. You were signed out everywhere.',
  gone: 'This link does not work any more: each works once, for an hour, and a newer one ends it.',
}
