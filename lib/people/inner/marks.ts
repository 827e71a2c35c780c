import crypto from 'node:crypto'
import { SIGN_IN_SECRET_VARIABLE } from '../sign-in-secret'
import { clientAddress } from './client-address'

/** Long enough to tell the accounts and addresses of one server apart. */
const MARK_LETTERS = 12

/**
 * A mark that is the same for the same text, and says nothing of it to whoever does not have the server's secret: a
 * plain hash of an address of the network is found by trying them all.
 */
const mark = (what: string, text: string): string =>
  crypto
    .createHmac('sha256', process.env[SIGN_IN_SECRET_VARIABLE] ?? '')
    .update(`${what} ${text}`)
    .digest('base64url')
    .slice(0, MARK_LETTERS)

/** How the log calls the account that somebody tried, whether there is such a one or not. */
export const accountMark = (mail: unknown): string | undefined =>
  typeof mail === 'string' ? mark('account', mail.toLowerCase()) : undefined

/** How the log calls where a request came from. */
export const addressMark = (headers: Headers): string => mark('address', clientAddress(headers))
