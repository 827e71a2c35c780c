import { type ChildProcess, spawn } from 'node:child_process'
import net from 'node:net'

/** The product, started as its user starts it. */
export type Product = {
  address: string
  process: ChildProcess
  /** Everything that it has said so far. */
  said(): string
  /** Sends a signal and waits for the end; the exit code. */
  end(signal?: NodeJS.Signals): Promise<number | null>
}

/** Starts the product on a port and a home of its own, and waits until it says where it is. */
export async function startProduct(home: string, variables: Record<string, string> = {}): Promise<Product> {
  const port = await freePort()
  const child = spawn(process.execPath, ['--import', 'tsx', 'lib/commands/serve.ts'], {
    env: { ...process.env, GUDGEON_HOME: home, PORT: String(port), ...variables },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let text = ''
  const exited = new Promise<number | null>((resolve) => child.once('exit', (code) => resolve(code)))
  await new Promise<void>((resolve, reject) => {
    const listen = (data: Buffer) => {
      text += data
      if (text.includes('Gudgeon is at')) resolve()
    }
    child.stdout.on('data', listen)
    child.stderr.on('data', listen)
    child.once('exit', () => reject(new Error(`The product ended before it was up:\n${text}`)))
  })
  return {
    address: `http://localhost:${port}`,
    process: child,
    said: () => text,
    end: (signal = 'SIGTERM') => {
      child.kill(signal)
      return exited
    },
  }
}

export function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const server = net.createServer().listen(0, '127.0.0.1', () => {
      const address = server.address()
      server.close(() => resolve(typeof address === 'object' && address ? address.port : 0))
    })
  })
}
