import { Prisma } from '@/prisma/client/client'

/**
 * What Prisma says where the database cannot be reached (P1001, P1002, P1008, P1017), is too busy to be asked (P2024,
 * P2037), or gives no transaction in time (P2028).
 */
const UNREACHED = new Set(['P1001', 'P1002', 'P1008', 'P1017', 'P2024', 'P2028', 'P2037'])

/** What the driver says of it, beneath a statement that is no more than "failed". */
const DRIVER_KINDS = new Set([
  'DatabaseNotReachable',
  'ConnectionClosed',
  'SocketTimeout',
  'TooManyConnections',
])

/**
 * What PostgreSQL says while it stops or starts (57P01 to 57P03), has no connection left (53300), or of a connection
 * that broke (class 08; appendix A of its manual); and what the system says of an address where nobody listens.
 */
const NO_CONNECTION = /^(57P0[123]|53300|08...|ECONNREFUSED|ECONNRESET|EPIPE|ETIMEDOUT|ENOTFOUND)$/

/** The driver says that one in words alone. */
const BROKEN = /^Connection terminated/

type Driver = { kind?: string; code?: string; originalMessage?: string }

type Told = {
  code?: unknown
  cause?: unknown
  meta?: { driverAdapterError?: { cause?: Driver } }
}

/** Whether a failure is that the database does not answer, so that the same may well go well in a moment. */
export function isDatabaseGone(error: unknown): boolean {
  if (!(error instanceof Error)) return false
  const { code, driver, cause } = toldBy(error)
  return (
    error instanceof Prisma.PrismaClientInitializationError ||
    UNREACHED.has(code) ||
    NO_CONNECTION.test(code) ||
    DRIVER_KINDS.has(`${driver.kind}`) ||
    NO_CONNECTION.test(`${driver.code}`) ||
    BROKEN.test(error.message) ||
    BROKEN.test(`${driver.originalMessage}`) ||
    isDatabaseGone(cause)
  )
}

/** What PostgreSQL says where its disk is full (class 53; appendix A of its manual), and what the system says of ours. */
const NO_ROOM = /^(53100|ENOSPC|EDQUOT)$/

/** Whether a failure is that nothing more can be written: what is there stands, and can be read. */
export function isDiskFull(error: unknown): boolean {
  if (!(error instanceof Error)) return false
  const { code, driver, cause } = toldBy(error)
  return NO_ROOM.test(code) || NO_ROOM.test(`${driver.code}`) || isDiskFull(cause)
}

/** The driver's own word is beneath a statement's failure, or the cause of one that came between statements. */
function toldBy(error: Error) {
  const { code, cause, meta } = error as Told
  const bare = typeof cause === 'object' && cause !== null && !(cause instanceof Error) ? cause : {}
  const driver: Driver = meta?.driverAdapterError?.cause ?? bare
  return { code: typeof code === 'string' ? code : '', driver, cause }
}
