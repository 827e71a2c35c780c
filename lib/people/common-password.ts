import { createHash } from 'node:crypto'
import COMMON from './inner/common-passwords.json'

/**
 * The 3,000 most used of those that are long enough to be chosen here (12 characters), by the first 64 bits of the
 * SHA-256 of each, in small letters: the list says no name and no word of anybody's. Source: the ten million passwords of
 * M. Burnett (2015) by how often they occur, as SecLists (MIT) keeps the first million of them.
 */
const KNOWN = new Set(COMMON)
const DIGITS = 16

const marked = (password: string): string =>
  createHash('sha256').update(password.toLowerCase()).digest('hex').slice(0, DIGITS)

/** Whether a password is among the first that anybody would try, written in whatever case. */
export const isCommonPassword = (password: string): boolean => KNOWN.has(marked(password))
