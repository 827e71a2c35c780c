import { streamed } from '../streamed'

/** Whether a client would rather have rows as CSV. */
export const wantsCsv = ({ headers }: Request): boolean =>
  (headers.get('accept') ?? '').split(',').some((type) => /^\s*text\/csv\s*(;|$)/i.test(type))

/** Pieces of CSV as an answer, sent as they come. */
export const csvResponse = (pieces: Iterable<string> | AsyncIterable<string>): Response =>
  streamed(pieces, { 'Content-Type': 'text/csv; charset=utf-8; header=present' })
