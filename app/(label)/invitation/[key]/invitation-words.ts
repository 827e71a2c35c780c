import type { Joined } from '@/lib/people/invitations'

/** What is said to whoever was invited. */
export const INVITATION_TITLE = 'Join'

export const NOT_JOINED: Record<Extract<Joined, { ok: false }>['reason'], string> = {
  unknown: 'This link is not whole. Copy all of it.',
  accepted: 'This invitation has been accepted already. Sign in at the door.',
  withdrawn: 'This invitation was withdrawn. Ask whoever invited you for another.',
  expired: 'This invitation has run out. Ask whoever invited you for another.',
  'has-account': 'Somebody signs in with that address already: sign in, and come back to this link.',
  'signed-out': 'Sign in first, then come back to this link.',
  'somebody-else': 'You are in as somebody else. Sign out, then sign in with the address that was invited.',
}
