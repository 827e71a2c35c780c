import COMMON from './inner/common-passwords.json'

/**
 * Of the 49,233 passwords that leaks show to be most used, those that are long enough to be chosen here: the list of
 * @zxcvbn-ts/language-common 4.1.3 (MIT), cut to 12 characters and more.
 */
const KNOWN = new Set(COMMON.map((password) => password.toLowerCase()))

/** Whether a password is among the first that anybody would try, written in whatever case. */
export const isCommonPassword = (password: string): boolean => KNOWN.has(password.toLowerCase())
