/** What the form sends for every session but the one that sends it. */
export const ALL_OTHERS = 'others'

/** What somebody is told of their own account. */
export const YOU_WORDS = {
  name: 'What you record carries it, also what you have recorded.',
  nameKept: 'Kept.',
  passwordKept: 'Your new password stands. Every other session has ended.',
  wrong: 'That is not your password. Check it, capital letters too, and try again.',
  tooOften: 'There were too many attempts. Wait a minute, then try again.',
  sessions: 'Wherever you are signed in. End what you do not know, and choose a new password.',
  ended: 'Ended: whoever was there has to sign in.',
  endedBefore: 'It had ended already.',
  unknownBrowser: 'a browser that did not say which',
}
