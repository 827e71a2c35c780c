/** Small pieces are sent together: each by itself would cost more than what it holds. */
const SENT_FROM = 64 * 1024

/** Pieces of text as an answer, sent as they come. */
export function streamed(
  pieces: Iterable<string> | AsyncIterable<string>,
  headers: Record<string, string>,
): Response {
  const encoder = new TextEncoder()
  const rest = Symbol.asyncIterator in pieces ? pieces[Symbol.asyncIterator]() : pieces[Symbol.iterator]()
  const body = new ReadableStream<Uint8Array>({
    async pull(controller) {
      let text = ''
      for (;;) {
        const { done, value } = await rest.next()
        if (!done) text += value
        if (text.length > 0 && (done || text.length >= SENT_FROM)) controller.enqueue(encoder.encode(text))
        if (done) controller.close()
        if (done || text.length >= SENT_FROM) return
      }
    },
  })
  return new Response(body, { headers })
}
