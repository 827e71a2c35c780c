/** Whether a client would rather have rows as CSV. */
export const wantsCsv = ({ headers }: Request): boolean =>
  (headers.get('accept') ?? '').split(',').some((type) => /^\s*text\/csv\s*(;|$)/i.test(type))

/** Pieces of CSV as an answer, sent as they come. */
export function csvResponse(pieces: Iterable<string> | AsyncIterable<string>): Response {
  const encoder = new TextEncoder()
  const rest = Symbol.asyncIterator in pieces ? pieces[Symbol.asyncIterator]() : pieces[Symbol.iterator]()
  const body = new ReadableStream<Uint8Array>({
    async pull(controller) {
      const { done, value } = await rest.next()
      if (done) controller.close()
      else controller.enqueue(encoder.encode(value))
    },
  })
  return new Response(body, { headers: { 'Content-Type': 'text/csv; charset=utf-8; header=present' } })
}
