import http from 'node:http'
import type { AddressInfo } from 'node:net'

/** A request as it arrived at a receiver. */
export type Received = { path: string; headers: Record<string, string>; body: string }

type Answer = (received: Received, response: http.ServerResponse) => void

/** A server of somebody else's: it keeps what it is sent and answers as it is told to. */
export async function startReceiver(answer: Answer = (_, response) => response.end()) {
  const received: Received[] = []
  let answering = answer
  const server = http.createServer((request, response) => {
    let body = ''
    request.on('data', (piece) => {
      body += piece
    })
    request.on('end', () => {
      const headers = Object.fromEntries(
        Object.entries(request.headers).map(([name, value]) => [name, String(value)]),
      )
      const one = { path: request.url ?? '', headers, body }
      received.push(one)
      answering(one, response)
    })
  })
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done))
  const { port } = server.address() as AddressInfo
  return {
    port,
    address: `http://127.0.0.1:${port}/told`,
    received,
    answer: (next: Answer) => {
      answering = next
    },
    stop: () =>
      new Promise<void>((done) => {
        server.closeAllConnections()
        server.close(() => done())
      }),
  }
}

export const status =
  (code: number, headers = {}): Answer =>
  (_, response) =>
    response.writeHead(code, headers).end('x'.repeat(100_000))
