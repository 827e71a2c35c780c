import type { InvitationState } from '@/lib/store/read/invitations'
import type { MembershipChange } from '@/lib/store/write/change-membership'

/** What is said of who belongs to the organisation. */

export const INVITATION_STATES: Record<InvitationState, string> = {
  open: 'waits',
  accepted: 'accepted',
  withdrawn: 'withdrawn',
  expired: 'ran out',
}

export const NOT_CHANGED: Record<Exclude<MembershipChange, 'changed'>, string> = {
  'last-owner': 'An organisation needs an owner: make somebody else one first.',
  'no-member': 'They do not belong here any more.',
}

export const INVITED = {
  mailed: (mail: string) => `Invited: a mail is on its way to ${mail}.`,
  notMailed: (mail: string) => `Invited, but the mail was not taken. Hand this link to ${mail} yourself:`,
  noMail: (mail: string) => `Invited. Mail is not set up here, so hand this link to ${mail} yourself:`,
  belongs: 'Somebody with this address belongs here already.',
}

export const INVITING =
  'Whoever gets the link sets a password, or signs in, and belongs. It works once, for 7 days.'

/** What is asked before somebody is removed. */
export const removeQuestion = (name: string) => ({
  words: `${name} is out at once. What they recorded stays, with their name.`,
  yes: `Remove ${name}`,
  sure: 'remove',
})

/** What is asked before somebody’s sessions are ended. */
export const signOutQuestion = (name: string) => ({
  words: `${name} is signed out in every browser and on every phone, and signs in anew to go on.`,
  yes: `Sign ${name} out`,
  sure: 'sign-out',
})

export const SIGNED_OUT = (sessions: number) =>
  sessions === 0
    ? 'They were signed in nowhere.'
    : `Signed out: ${sessions} ${sessions === 1 ? 'session' : 'sessions'} ended.`
